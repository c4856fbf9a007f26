"""The grammar that the languages share: which words make a phrase, whatever the words are.

The lexicon of a language says which terminals its words are; a language's own module adds the phrases that only it has (`%extend`).
A line is a flat row of phrases and joints: their order is free in every language, so what belongs to what is settled when meanings
are composed, not here. LALR: a phrase is always the longest that the next word allows. Syntax: the lark library's.
"""

__all__ = ["SHARED"]

SHARED = r"""
start: item*

?item: joint | phrase

joint: AND | OR | COMMA | STOP | SEMI | NEWLINE | COLON | DASH | LPAR | RPAR | PLUS | THEN | BUT

?phrase: amount | unit_alone | cross | pattern | times | firm | every | when | by_meals | clock | days | other_days | except_
    | for_how_long | length | until | start_day | cycle_days | month_days | each_month
    | wanted | reason | reason_tail | split | ceiling | at_most | total | supply | apart | stat | single | stop_taking | quiet | blocked
    | again | gone | later | step_by

// how much
number: NUM                                   -> exactly
    | NUM _range NUM                          -> between
    | UPTO NUM                                -> up_to
    | NOMORE NUM                              -> up_to
_range: TO | DASH | OR
amount: number UNIT                           -> amount
    | number OF (A | THE)? UNIT               -> amount
    | number                                  -> bare_amount
    | A UNIT                                  -> one_unit
    | X number UNIT                           -> amount
    | number UNIT TOTAL                       -> amount
    | number UNIT OFSIZE number UNIT          -> amount_of
    | UNIT AND_HALF                           -> one_and_half
    | amount_half
amount_half: number UNIT AND_HALF             -> amount_and_half
unit_alone: UNIT
cross: NUM CROSS NUM UNIT?                    -> cross
    | NUM CROSS UNIT                          -> counted
pattern: PATTERN UNIT?

// how often
times: number TIMES                           -> times
    | X number                                -> times_after
    | (UPTO)? ADVTIMES                        -> adverb_times
    | ADVTIMES _range ADVTIMES                -> adverb_times
firm: UPTO? FREQ
    | number TIMES TIMEUNIT                   -> times_a_unit
    | SAMEDAY                                 -> same_day
every: ADVPERIOD                              -> adverb_period
    | (A | PER) TIMEUNIT                      -> a_period
    | SLASH TIMEUNIT                          -> slash_period
    | EVERY TIMEUNIT                          -> each_period
    | EVERY number TIMEUNIT                   -> every_number
    | EVERY OTHER TIMEUNIT                    -> every_other
    | EVERY ORD TIMEUNIT                      -> every_ordinal
    | _pre? OTHER TIMEUNIT                      -> every_other
    | EVERYX                                  -> every_word
    | number HOURLY                           -> hourly

// when in the day
when: _pre? DAYPART                          -> day_part
    | EVERY DAYPART                           -> every_day_part
    | _pre EVERY DAYPART                     -> every_day_part
    | EVERY OTHER DAYPART                     -> every_other_day_part
    | EVERY ORD DAYPART                       -> every_ordinal_day_part
    | _pre? OTHER DAYPART                     -> every_other_day_part
    | WHENX                                   -> when_word
    | _pre? MEAL                              -> meal
    | REL _det? MEAL                          -> meal
    | _pre? EVERY MEAL                        -> meal
    | ATLEAST? number TIMEUNIT REL _det? MEAL -> offset_meal
    | ATLEAST? ANHOUR REL _det? MEAL          -> offset_meal
    | number TIMEUNIT REL _det? DAYPART -> offset_day_part
    | ATLEAST? number TIMEUNIT BEFOREBED      -> offset_bed
    | ATLEAST? ANHOUR BEFOREBED               -> offset_bed
_pre: IN | AT | ON | THE | IN THE | AT THE | ON THE
_det: THE | A | EVERY | PER
by_meals: REL _det? MEALANY                   -> by_meals
    | ATLEAST? number TIMEUNIT REL _det? MEALANY -> offset_meals
    | ATLEAST? ANHOUR REL _det? MEALANY       -> offset_meals
    | MEALSX                                  -> meals_word
    | EACHMEAL                                -> each_meal
clock: AT? CLOCK (HOURS)?                     -> clock
    | AT number                               -> at_hour
    | AT number OCLOCK                        -> at_hour
    | number OCLOCK                           -> at_hour
    | AT? number AMPM                        -> hour_half
    | AT? CLOCK AMPM                          -> clock_half
    | AT number OCLOCK AMPM                   -> hour_half

// which days
days: _pre? WEEKDAY                            -> weekday
    | _pre A WEEKDAY                          -> weekday
    | _pre? WEEKDAY (SLASH WEEKDAY)+          -> weekday_list
    | _pre? EVERY WEEKDAY (SLASH WEEKDAY)+    -> weekday_list
    | _pre? WEEKDAY DASH WEEKDAY (DASH WEEKDAY)+ -> weekday_list
    | _pre? WEEKDAY (TO | DASH) WEEKDAY        -> weekday_range
    | (OF | FROM) WEEKDAY (TO | DASH) WEEKDAY -> weekday_range
    | _pre? WEEKDAYSET                         -> weekday_set
    | _pre? EVERY WEEKDAY                      -> weekday
    | _pre? EVERY WEEKDAYSET                   -> weekday_set
    | _pre? EVERY OTHER WEEKDAY                -> weekday_other
    | _pre? EVERY ORD WEEKDAY                  -> weekday_ordinal
other_days: _pre? OTHERDAYS
except_: EXCEPT
until: UNTIL _date
    | UPTO _date
    | TO date
start_day: FROM _date                         -> start_day
    | FROM _date TO _date                     -> from_to
    | FROM THE? ORD TO THE? ORD OF? MONTHNAME NUM -> from_to_of_month
_date: _pre? date
    | _pre? weekday_date
weekday_date: WEEKDAY COMMA? date
date: DATE                                    -> date
    | number MONTHNAME NUM                    -> day_month_year
    | ORD OF? MONTHNAME NUM                   -> day_month_year
    | MONTHNAME number COMMA? NUM             -> month_day_year
    | MONTHNAME ORD COMMA? NUM                -> month_day_year
cycle_days: _pre? DAYNO number                 -> on_day
    | FROM DAYNO number ONWARDS?              -> from_day
    | _pre? DAYNO number ONWARDS              -> from_day
    | _pre? WEEKNO number                     -> on_week
    | FROM WEEKNO number ONWARDS?             -> from_week
    | _pre? WEEKNO number ONWARDS             -> from_week
    | _pre? FIRST TIMEUNIT                    -> first_day
    | _pre? ORD TIMEUNIT                      -> nth_day
    | FOR THE? FIRST TIMEUNIT                 -> first_day
    | _pre? DAYNO number EVERY number TIMEUNIT -> on_days_of
    | _pre? DAYNO number OF EVERY number TIMEUNIT CYCLE -> on_days_of
    | _pre? DAYNO number OF EVERY number TIMEUNIT -> on_days_of
    | _pre? DAYNO number OF number (TIMEUNIT)? (CYCLE)?  -> on_days_of
    | _pre? DAYNO number OF A number TIMEUNIT CYCLE      -> on_days_of
month_days: _pre? ORD                          -> month_day
    | _pre? DAYNO number OF (EVERY | THE | A) TIMEUNIT -> day_of_month
    | _pre? FIRST number TIMEUNIT              -> first_days
each_month: OF (EVERY | THE | A)? TIMEUNIT

// how long
for_how_long: (FOR | X) number TIMEUNIT (COURSE)?   -> for_number
    | FOR A number TIMEUNIT COURSE            -> for_number
    | FOR A TIMEUNIT                          -> for_one
    | FOR number DAYPART                      -> for_nights
    | FOR EVERYX                              -> for_every
    | FOR? SPAN                               -> for_span
    | X SPAN                                  -> for_span
    | FOR (THE? FIRST) number TIMEUNIT        -> for_first
    | FOR NEXT number TIMEUNIT                -> for_number
    | FOR number MORE TIMEUNIT                -> for_number
    | number TIMEUNIT COURSE                  -> for_number
    | (FOR? A)? COURSE OF number TIMEUNIT     -> for_number
length: number TIMEUNIT                       -> length
    | (FOR)? number TIMEUNIT OFF              -> length_off
    | number TIMEUNIT ONWORD                  -> length_on
    | FOR number TIMEUNIT ONWORD              -> length_on
    | number TIMEUNIT ONWORD SLASH number TIMEUNIT OFF -> rounds
    | OFF FOR number TIMEUNIT                 -> length_off
    | OFF FOR A TIMEUNIT                      -> one_off
    | A TIMEUNIT OFF                          -> one_off
    | A number TIMEUNIT OFF                   -> length_off
    | STOPTAKING FOR number TIMEUNIT          -> length_off
    | STOPTAKING FOR A TIMEUNIT               -> one_off
    | OFF OF? number TIMEUNIT                 -> length_off
    | number TIMEUNIT OF number TIMEUNIT?     -> days_out_of
    | FOR number TIMEUNIT OF number TIMEUNIT? -> days_out_of
    | FOR number TIMEUNIT OF EVERY number TIMEUNIT -> days_out_of
later: REL number TIMEUNIT                    -> after_length
    | REL A TIMEUNIT                          -> after_length
gone: GONE
step_by: (STEPDOWN | STEPUP) number UNIT? _step_every? -> step_by
    | (STEPDOWN | STEPUP) number UNIT? _step_every _step_end -> step_by
    | (STEPDOWN | STEPUP) number UNIT? _step_end _step_every? -> step_by
_step_every: EVERY number TIMEUNIT | EVERY TIMEUNIT | ADVPERIOD | (A | PER) TIMEUNIT | EVERYX
_step_end: TOZERO | (TO | DOWNTO | UPTO) step_end
step_end: number UNIT?                        -> bare_amount
stop_taking: STOPTAKING
again: AGAIN

// on demand, at most
wanted: WANTED REASONW*                         -> wanted
    | WANTED WANTEDFOR REASONW+               -> wanted_because
    | WANTEDFOR REASONW+                      -> wanted_for
reason: FOR COLON? REASONW+ (SLASH REASONW+)*
    | FOR (THE | A) REASONW+
    | INDICATION (COLON | FOR)? REASONW+
    | TOVERB REASONW+
    | PURPOSE
reason_tail: REASONW+
at_most: MAX number UNIT? _within             -> at_most
    | MAX number UNIT AND_HALF _within        -> at_most
    | MAX number UNIT?                        -> at_most_of
    | MAX number TIMES within_period          -> at_most_times
    | MAX ADVTIMES within_period              -> at_most_adverb_times
    | MAX FREQ                                -> at_most_often
_within: within_period
within_period: _in number TIMEUNIT           -> within_number
    | DAYHOURS                                -> within_day_hours
    | (A | PER | SLASH | EVERY) TIMEUNIT      -> within_one
    | IN A TIMEUNIT                           -> within_one
    | ADVPERIOD                               -> within_adverb
_in: IN | PER | SLASH | EVERY
split: SPLIT number INTAKE SPLIT?
ceiling: CEILING
total: TOTAL number UNIT? within_period?
supply: SUPPLY COLON? number UNIT?            -> supply
    | SUPPLY COLON? number TIMEUNIT           -> supply_length
apart: ATLEAST? number TIMEUNIT BETWEEN
stat: STAT
single: SINGLE
quiet: VERB | ROUTE | SITE | INSTR | ALSO | STARTWITH
blocked: ASKED | DIRECTED | COND | NEG | STEP

%declare AND OR COMMA STOP SEMI NEWLINE COLON DASH LPAR RPAR PLUS THEN BUT NUM TO UPTO UNIT A CROSS PATTERN TIMES X ADVTIMES FREQ
%declare ADVPERIOD PER SLASH TIMEUNIT EVERY OTHER ORD ON EVERYX HOURLY DAYPART WHENX REL MEAL IN AT THE MEALANY CLOCK HOURS OCLOCK AMPM
%declare WEEKDAY WEEKDAYSET OTHERDAYS EXCEPT UNTIL FROM DATE MONTHNAME DAYNO OF CYCLE FIRST FOR COURSE SPAN NEXT OFF ONWORD STOPTAKING
%declare AGAIN WANTED WANTEDFOR REASONW PURPOSE MAX TOTAL STAT SINGLE VERB ROUTE SITE INSTR ALSO ASKED DIRECTED COND NEG STEP AND_HALF
%declare MEALSX EACHMEAL ATLEAST OFSIZE SPLIT INTAKE CEILING
%declare SAMEDAY BEFOREBED WEEKNO ONWARDS MORE GONE STEPDOWN STEPUP TOZERO DOWNTO TOVERB INDICATION SUPPLY
%declare STARTWITH NOMORE BETWEEN ANHOUR DAYHOURS
"""
