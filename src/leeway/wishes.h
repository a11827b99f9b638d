/* wishes.h - sizes as choices of an integer program: which value of each is taken, and what each drawer wants then. */
#ifndef DWI_LEEWAY_WISHES_H
#define DWI_LEEWAY_WISHES_H

#include "knobs.h"

/* Exactly one of its values is taken. */
struct dwi_choice {
    size_t knob;
    size_t front;            /* of a knob of fronts: which one; its value v is a shift of v - most steps */
    size_t value_count;
    size_t base;             /* the value as sized */
    bool outer;              /* one that several sizes hang on: a slide length */
};

/* A piece in one of the sizes that it may have. */
struct dwi_item {
    size_t material;         /* index of the problem */
    struct dw_cut_part part; /* its count stays 0 */
};

/* Drawers that hang on the same choices. */
struct dwi_group {
    size_t inner, outer;     /* choices; DW_NO_INDEX: none */
    size_t inner_count, outer_count; /* values; 1 for none */
    bool *known;             /* of each cell, inner * outer_count + outer: can it be, and is it known what it wants? */
};

/* So many of an item are wanted when a group takes a cell. */
struct dwi_want {
    size_t group, cell, item;
    int64_t count;
};

struct dwi_choices {
    struct dwi_choice *at;
    size_t count, capacity;
    struct dwi_group *groups;
    size_t group_count, group_capacity;
    struct dwi_item *items;
    size_t item_count, item_capacity;
    struct dwi_want *wants;
    size_t want_count, want_capacity;
    int64_t *fixed;          /* of each item, wanted whatever is chosen */
    const struct dw_layout_problem *problems; /* of the setting with all choices as sized */
    size_t problem_count;
    bool whole;              /* every value of every choice can be: what is said of all cells is said of all settings */
};

/* wishes.c: is this knob one whose values are chosen, not just let fall: fronts, slides of other prices; where every size is to be a choice and no
 * fronts give, box heights and all slides too? */
bool dwi_is_chosen(const struct dwi_search *search, const struct dwi_knob *knob);

/* wishes.c: the choices among the knobs. All other knobs stand at their smallest. What each drawer wants is read off trials, one value at a time. False
 * when there is no choice, or when what a drawer wants hangs on more than its own choices. In `arena`. Knobs are left as they were. */
bool dwi_choices_find(struct dwi_search *search, struct dw_arena *arena, struct dwi_choices *choices);

/* Sets the knobs to these values of the choices. */
void dwi_choices_take(const struct dwi_choices *choices, const size_t *values, struct dwi_knobs *knobs);

/* What a value of a choice costs, and by how much it differs from what is sized. */
dw_money dwi_choice_price(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t choice, size_t value);
dw_length dwi_choice_distance(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t choice, size_t value);

/* The item that this part of a material is; DW_NO_INDEX. */
size_t dwi_choices_item(const struct dwi_choices *choices, size_t material, const struct dw_cut_part *part);

/* coupled.c: the cheapest setting of the choices that it finds, into the knobs, and its target, all other knobs at their smallest. The target in hand is of
 * the knobs as they stand. The target's bound is then one of all settings; 0: nothing is known of all. Works in `arena`. */
void dwi_columns(struct dwi_search *search, const struct dwi_choices *choices, struct dw_arena *arena);

/* lowest_mix.c: sheets and money for slides of least cost that obey all rows. */
struct dwi_row {
    const int64_t *v;        /* of each source */
    int64_t money;           /* of each cent for slides */
    int64_t rhs;             /* v * counts + money * extra >= rhs holds of every setting */
};
struct dwi_source {
    size_t material, sheet;
    dw_money price;
    int64_t most;            /* never more than could be of use */
};
struct dwi_mixing {
    const struct dwi_source *sources;
    size_t source_count;
    const struct dwi_row *rows;
    size_t row_count;
    const dw_money *extras;  /* all sums that slides may cost more, rising */
    size_t extra_count;
    struct dwi_refusal *refusals;
    size_t refusal_count, refusal_capacity;
};

/* Mixes with no more of anything than this one are known not to do. */
struct dwi_refusal {
    const int64_t *counts;
    dw_money extra;
};
void dwi_refuse_mix(struct dwi_mixing *mixing, const int64_t *counts, dw_money extra, struct dw_arena *arena);

/* The least cost below `below`, with its counts and extra; `below` when there is none; -1 when it is too much to count. */
dw_money dwi_lowest_mix(const struct dwi_mixing *asked, dw_money below, int64_t *counts, dw_money *extra, struct dw_arena *arena);

#endif
