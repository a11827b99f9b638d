/* coupled.h - the inside of the integer program over layouts and sizes; shared by the files that build it. */
#ifndef DWI_LEEWAY_COUPLED_H
#define DWI_LEEWAY_COUPLED_H

#include "wishes.h"

/* A way to cut one sheet: so many of each item. */
struct dwi_column {
    size_t source;
    const int64_t *counts;
};

struct dwi_columns {
    struct dwi_search *search;
    const struct dwi_choices *choices;
    struct dw_arena *arena;
    size_t *first_want;            /* of each group and cell, in the order of wants; one more at the end */
    size_t *first_cell;            /* of each group: its first place in first_want */
    size_t *low, *high;            /* of each choice: the values that it may take for now */
    size_t *first_value;           /* of each choice: its first place among all values; one more at the end */
    struct dwi_source *sources;    /* of the materials of which anything is chosen */
    size_t source_count;
    struct dwi_column *layouts;
    size_t layout_count, layout_capacity;
    int64_t work;                  /* units left */
};

/* What the program is solved for. */
enum dwi_size_goal {
    DWI_LEAST_MONEY,  /* shares of layouts and values allowed: its dual values make rows */
    DWI_WITHIN_MIX,   /* likewise: the least number of items lacking, with so many sheets of each source and so much for slides */
    DWI_WHOLE         /* whole layouts and values, at the least money, then the least change */
};

/* The program's answer. Dual values are those of the goal, none below 0. */
struct dwi_size_answer {
    bool solved;
    double value;
    double *u;        /* of each item; relaxed goals */
    double *held;     /* of each source: what one more sheet of it would spare */
    double money;     /* likewise of each cent for slides */
    double *shares;   /* of each value of each choice, in the order of first_value; relaxed goals */
    size_t *values;   /* of each choice; DWI_WHOLE */
};

/* size_program.c: solves the program of these layouts. counts and extra: the mix. below: DWI_WHOLE looks only for less. In `arena`. */
struct dwi_size_answer dwi_size_program(struct dwi_columns *columns, enum dwi_size_goal goal, const int64_t *counts, dw_money extra, dw_money below,
                                        struct dw_arena *arena);

/* least_wish.c: the least that all drawers together can be worth over all settings of the choices within their ranges, sums of fronts kept: for values u of
 * items, and each cent for slides worth `money`. In integers; never above the true least. */
int64_t dwi_least_wish(const struct dwi_columns *columns, const int64_t *u, int64_t money, struct dw_arena *arena);

/* least_wish.c: all sums that slides may cost more, rising. In `arena`. */
dw_money *dwi_all_extras(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t *count, struct dw_arena *arena);

#endif
