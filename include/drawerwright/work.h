/* work.h - how long the search may go on, and how to stop it.
 *
 * Patience is counted in work done, never in seconds, so that the same job gives the same plan on a fast and
 * a slow machine. A unit of work is about a microsecond of one core of a usual desktop of 2020. Seconds are there for
 * those who ask; a plan stopped by the clock says so.
 */
#ifndef DRAWERWRIGHT_WORK_H
#define DRAWERWRIGHT_WORK_H

#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum dw_patience {
    DW_SHORT,  /* a second or two for 60 drawers whose plan is not soon proved */
    DW_COFFEE, /* about ten */
    DW_LUNCH   /* about a minute */
};

struct dw_cut_plan; /* cutting.h */
struct dw_crew;     /* crew.h */

/* Where a long call stands. Where `what` is a material's name, all figures are that material's alone, at first prices. */
struct dw_standing {
    const char *what;        /* what is being worked on, a material's name or ""; lives through the callback */
    size_t material;         /* which of the plan's materials that is, in the order of dw_layout_problems */
    int64_t best;            /* money of the best plan so far; -1 when none */
    int64_t lower_bound;     /* no plan costs less */
    int64_t work_done;       /* units */
    int64_t work_allowed;
    const struct dw_cut_plan *found; /* a plan better than any told before, passed by the checker; no bound of its own. NULL when there is no new
                                        one, or nobody asked for them; lives through the callback */
};

/* What a caller lends to a long call. An all-zero struct means: never cancelled, silent, no clock. */
struct dw_control {
    atomic_bool *cancel;     /* set by any thread to stop soon with the best so far; may be NULL */
    void (*progress)(void *context, const struct dw_standing *standing); /* may be NULL; may come from
                                any thread of the call, one at a time */
    void *context;
    bool plans;              /* progress is to carry better plans as they are found; never changes what is found */
    int64_t milliseconds;    /* stop by the clock; 0: no limit */
    struct dw_crew *crew;    /* threads to share with others; NULL: a call has those that it is asked to have. Never changes what is found */
};

bool dw_patience_parse(const char *word, enum dw_patience *patience);
const char *dw_patience_word(enum dw_patience patience);

/* The units of work that one search may do; each material of a job is a search. */
int64_t dw_patience_units(enum dw_patience patience);

#endif
