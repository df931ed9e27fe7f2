// Package phones serves a tasting to the phones of its tasters while it is open: a page
// for each taster behind a link of their own, with the next glass in their order.
//
// A page knows codes, never what is behind them: it is made from the tasting, its
// servings' codes and the taster's own answers, and no name or id of a beer comes near a
// template. Whatever a page changes goes through Book, which is how the commands of the
// terminal change the notebook too.
//
// Rules that the pages keep, and who says so:
//
//   - targets of 24 CSS pixels and more: WCAG 2.2, success criterion 2.5.8;
//   - contrast of 4.5 for text and 3 for borders: WCAG 2.2, 1.4.3 and 1.4.11;
//   - nothing is chosen beforehand, since a score that was never given is missing
//     and not a 5 (common practice, no source);
//   - a browser leaves Sec-Fetch-Site out over plain http, and sends "Origin: null" under
//     a referrer policy of no-referrer, so that an honest form would be refused: the
//     policy is same-origin (measured with Chromium 156).
package phones
