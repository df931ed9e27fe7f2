package main

// studyTopic is the page about the studies that suggest --study reads.
var studyTopic = topic{
	name:  "study-format",
	short: "What suggest --study reads",
	intro: `One study a line, each one JSON object; the answers come one a line in the same
order. Only id and a dose for each trial must be there. A key that is left out
or null is not known, one that is not listed here is passed over. Doses are
effective g/L, ln is the natural logarithm, sd a standard deviation of it.

  {"id": "a", "trials": [{"dose_g_per_l": 2, "scores":
    [{"taster": "A", "vote": -1}, {"taster": "B", "vote": 0}]}]}`,
	rules: `study
  id, material, attribute   texts
  claims_g_per_l            advice heard: [[low, high], ...]
  trials, dosed_to_taste    lists of objects, below
  wish                      {"liking": 1 to 9}
  target_intensity          0 to 10, in place of just right
  drink_at_days             age at which the beer is drunk
  method_prior              {method: {"ln": 0, "sd": 0.5}}
  remembered_tasters        {taster: {"offset_ln", "offset_sd_ln", "scale",
                            "scale_sd", "sharpness"}}
  avoid                     [{"attribute", "at_most": 0 to 10, "scores":
                            [{"trial", "taster", "intensity"}]}]
  panel                     names of the own tasters, beside other brewers'
  others                    [{"brewer", "right_dose_g_per_l", "low_g_per_l",
                            "high_g_per_l", "trials", "tasters", "method"}]

one of trials
  id, group, method, lot    texts; group is the brew that it came from
  brewer                    another who made it; left out it is one's own
  dose_g_per_l, dose_sd_ln  0 g/L is a control
  kind                      batch, jar or glass
  days_old, contact_days    age when tasted, days that the plant was in
  conditions                what else differed: {"sugar": "10 g/L"}
  scores                    [{"taster", "vote": -1 too little, 0 just right or
                            1 too much, "intensity": 0 to 10, "liking": 1 to 9}]

one of dosed_to_taste, a glass into which extract went step by step
  taster, tasting, method   texts
  extract                   used or other: whether it goes into the beer
  direction                 up or down
  step_factor               from one step to the next; 1.25 if left out
  right_g_per_l             the end of just right towards too little
  too_much_g_per_l          its end towards too much
  stopped_at_g_per_l        the last step that was tasted`,
}
