/* knobs.h - the sizes that may give, trials of them, and what the sheets say to a trial. Shared by the files of this room. */
#ifndef DWI_LEEWAY_KNOBS_H
#define DWI_LEEWAY_KNOBS_H

#include <drawerwright/leeway.h>

enum dwi_knob_kind {
    DWI_BOX_HEIGHT,
    DWI_SLIDE_LENGTH,
    DWI_GROOVE_HEIGHT, /* higher is smaller: the back over a bottom that is slid in is lower */
    DWI_OVERLAY,       /* of all fronts of a case; values are what comes off each side */
    DWI_LISTED_LENGTH, /* of a part listed by hand */
    DWI_LISTED_WIDTH,
    DWI_FRONTS         /* all heights of a bank, their sum kept: as sized at value 0, shifted at value 1 */
};

struct dwi_member {
    size_t job, case_index, bank_index, drawer_index; /* of a listed part: its place in the list is drawer_index */
    const char *path;
    int64_t count;           /* copies of the case, or of the part */
};

/* The fronts of a bank, or of like banks of one case, top first: each may be some steps lower or higher than sized. */
struct dwi_fronts {
    size_t count;
    const dw_length *preferred;
    const bool *may;         /* give at all */
    dw_length step;
    int most;                /* steps, lower or higher */
    int *shifts;             /* where they stand, in steps; their sum is 0 */
};

/* One size of a group that stays alike. */
struct dwi_knob {
    enum dwi_knob_kind kind;
    struct dwi_member *members;
    size_t member_count, member_capacity;
    const dw_length *values; /* [0] is the preferred one; parts get smaller from value to value, save for fronts */
    size_t value_count;      /* >= 2 */
    const dw_money *prices;  /* DWI_SLIDE_LENGTH: what slides of all members cost more at each value, as it counts; NULL: the same */
    const dw_money *slides;  /* likewise, as it is; NULL for other kinds */
    struct dwi_fronts fronts; /* DWI_FRONTS; value 1 is its shifts */
    size_t at;               /* where it stands */
};

struct dwi_knobs {
    struct dwi_knob *at;
    size_t count, capacity;
};

/* knobs.c: all knobs of these jobs within the options, each at its preferred value. In `arena` (inside a guard). */
struct dwi_knobs dwi_knobs_find(const struct dw_sizing *const *sizings, size_t job_count, const struct dw_leeway_options *options,
                                struct dw_arena *arena);

/* front_shares.c: the fronts of a bank that may give `most` as a knob; without values when there are not two that may. */
struct dwi_knob dwi_knob_of_fronts(const struct dw_sizing *sizing, const struct dw_sized_bank *bank, dw_length most, struct dw_arena *arena);

/* front_shares.c: do both banks have the same fronts, free to give alike, so that what lines up across a case goes on lining up? */
bool dwi_fronts_alike(const struct dwi_fronts *a, const struct dwi_fronts *b);

/* front_shares.c: the height of a front as the knob stands. */
dw_length dwi_front_height(const struct dwi_knob *knob, size_t front);

/* Where all knobs stand, in an arena; and back there. */
struct dwi_setting {
    size_t *at;
    int **shifts;
};
struct dwi_setting dwi_setting_save(const struct dwi_knobs *knobs, struct dw_arena *arena);
void dwi_setting_restore(struct dwi_knobs *knobs, const struct dwi_setting *setting);

/* What slides cost more than the preferred ones, the knobs as they stand. */
dw_money dwi_knobs_price(const struct dwi_knobs *knobs);

/* By how much all members together differ from what is preferred, the knob standing at `at`. */
dw_length dwi_knob_distance(const struct dwi_knob *knob, size_t at);

/* ---- trials ---- */

/* What one setting of the knobs comes to as far as the cutting problems; in an arena of its own. */
struct dwi_trial {
    struct dw_arena *arena;
    bool possible;           /* the sizes and parts can be, and fit their sheets */
    const struct dw_sizing **sizings;
    const struct dw_parts **parts;
    const struct dw_layout_problem *problems;
    size_t problem_count;
};

/* What is wanted of one material, in an order of its own. */
struct dwi_demand {
    struct dw_cut_part *parts; /* by turn, length, width; like ones together */
    size_t count;
};

/* A layout of a plan: so many of each part of the demand from one sheet. */
struct dwi_layout {
    size_t sheet;
    const int64_t *counts;
};

/* What the cutting room said of a demand. */
struct dwi_price {
    size_t material;
    struct dwi_demand demand;
    dw_money cost, bound;    /* cost INT64_MAX: no plan */
    const int64_t *counts;   /* sheets of each source; NULL without a plan */
    struct dwi_layout *layouts; /* of the plans found */
    size_t layout_count, layout_capacity;
};

struct dwi_answer {
    size_t material;
    struct dwi_demand demand;
    bool holds;
};

/* The sheets that a setting is asked to get by with. */
struct dwi_target {
    const int64_t **counts;  /* for each problem of each source */
    bool *asked;             /* false: these are the sheets of the plan before, which hold all that is smaller */
    dw_money *costs, *bounds; /* of each problem's sheets, at first prices; within cost and bound where nothing ties materials together */
    dw_money extra;          /* what slides cost more */
    dw_money cost, bound;    /* of it all; bound 0: not known */
};

struct dwi_search {
    const struct dw_job *const *jobs;
    size_t job_count;
    const struct dw_purchase *before;
    const struct dw_leeway_options *options;
    const struct dw_layout_options *layout;
    const struct dw_control *control;
    struct dw_arena *arena;
    struct dw_faults *heard;   /* what the trials complain of; read by nobody */
    int64_t corner_work;       /* units for each material at a corner */
    int64_t work;              /* units left for questions */
    struct dwi_knobs knobs;
    struct dwi_demand *wanted; /* before, for each problem */
    struct dwi_price *prices;
    size_t price_count, price_capacity;
    struct dwi_answer *answers;
    size_t answer_count, answer_capacity;
    struct dwi_target target;
};

/* trial.c: sizes the jobs with the knobs as they stand and makes their parts and problems. Dropped by dwi_trial_drop. */
struct dwi_trial dwi_try(struct dwi_search *search);
void dwi_trial_drop(struct dwi_trial *trial);

/* price.c: the demand of a problem, in `arena`; and the search's start: what the plan before wants and is. */
struct dwi_demand dwi_demand_of(const struct dw_cut_request *request, struct dw_arena *arena);
void dwi_search_start(struct dwi_search *search);

/* price.c: what the sheets of a trial cost and at least cost. False when there is no plan. target->counts are set. */
bool dwi_price(struct dwi_search *search, const struct dwi_trial *trial, struct dwi_target *target);

/* price.c: can the knobs as they stand be cut from the target's sheets? No is said also when work has run out. */
bool dwi_holds(struct dwi_search *search);

/* corner.c: prices the smallest setting with fronts and slides of other prices as they stand. Knobs are raised together where sizing wants it; then nothing is
 * known of all settings. False when none can be. */
bool dwi_price_corner(struct dwi_search *search, struct dwi_target *target);

/* corner.c: sets all knobs to where together they cost least, and the target to the sheets that this takes. False when no setting can be. */
bool dwi_corner(struct dwi_search *search);

/* turn_back.c: turns the knobs back from the corner towards what is preferred, as near as the target allows. */
void dwi_turn_back(struct dwi_search *search);

/* edits.c: fills what taking and refusing the change would write. */
void dwi_leeway_edits(const struct dwi_search *search, const struct dwi_knob *knob, struct dw_leeway_change *change);

/* leeway_words.c: fills changes and words. Knobs are left as they are. */
void dwi_leeway_words(struct dwi_search *search, struct dw_leeway *leeway);

/* alone.c: fills alone. */
void dwi_leeway_alone(struct dwi_search *search, struct dw_leeway *leeway);

#endif
