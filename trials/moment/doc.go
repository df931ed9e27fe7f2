// Package moment reads when something happened as people write it: "yesterday
// 18:00", "last saturday", "3 days ago", "nov 15", "15.11.2026", "day 9 morning".
//
// A text is a day and an hour, in either order; each is optional. [Parse] takes
// one reading where one is sensible, says in [reading.Notes] what it took that was
// not typed, and returns an [*Error] that names both readings where two are.
//
// Rules (common practice, no source, but for the first):
//   - a clock time that summer time skips is read with the offset before the gap,
//     one that comes twice is the first of the two (RFC 5545, section 3.3.5)
//   - a weekday is the last one before today; "last" changes nothing but that
//     today's own name may then be said
//   - year first is year, month, day with any mark; dots are day.month; slashes and
//     hyphens ask where both orders give a day
//   - without a year it is the last such day that is not to come
//   - morning is 09:00, noon 12:00, afternoon 15:00, evening 18:00, night 21:00; a
//     day without an hour is noon, on the day of the start that moment itself, and
//     today never later than now
package moment
