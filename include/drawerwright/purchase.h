/* purchase.h - what to buy for all materials together at the least money, and what a job costs.
 *
 * A purchase is the whole plan: it points back to the layouts, parts, sizing and job it stands on, so that drawing, files and the page
 * need nothing else.
 */
#ifndef DRAWERWRIGHT_PURCHASE_H
#define DRAWERWRIGHT_PURCHASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/layout.h>
#include <drawerwright/money.h>
#include <drawerwright/work.h>

struct dw_arena;

/* One of a job's needs. */
struct dw_need_ref {
    size_t job, need;
};

/* One line of the shopping list. */
struct dw_buy_line {
    const char *supplier;   /* "" when none is named */
    const char *id;
    const char *what;       /* "1/2 birch plywood 48 x 96, measures 15/32" */
    int64_t count;          /* to buy */
    int64_t used;           /* of them cut; the rest comes with a price break and goes to the rack */
    dw_money each;          /* price of one at this count (breaks taken into account) */
    dw_money total;
    size_t material;        /* index into the layouts' materials; DW_NO_INDEX for hardware */
    size_t source;          /* of the material's problem */
    const struct dw_need_ref *needs; /* hardware: all needs, of one job or several, that the line is bought for */
    size_t need_count;
};

/* What goes to one supplier: its lines stand together in the purchase's list. */
struct dw_order {
    const char *supplier;   /* "" when none is named */
    size_t line, line_count;
    dw_money goods, delivery, total; /* before tax */
};

/* One step of a cost's arithmetic, in money. */
struct dw_cost_step {
    const char *words;
    dw_money amount;        /* signed */
};

struct dw_cost_line {
    const char *name;       /* "sheets", "delivery", "slides", "tax", "labor", "mark-up" */
    dw_money amount;
    const struct dw_cost_step *steps; /* add up to amount */
    size_t step_count;
};

/* What another choice of sheets would come to, beside the cheapest. Found with a quarter of the patience. */
struct dw_choice {
    const char *name;       /* "only full sheets", "fewest sheets", "least waste", "everything from Ebbside" */
    bool possible;          /* a plan was found */
    dw_money total;         /* sheets with breaks and delivery, as sheets_cost */
    int64_t sheets;         /* to cut, owned ones included */
    dw_area sheets_area;
    dw_area waste;          /* of those sheets, all that is not part; offcuts too, kept or not */
    bool proved;            /* no other plan does better by the choice's own measure: money, sheets, or area of sheets cut */
};

/* A job's (or case's, or drawer's) share of the cost. The rule: what a material costs goes by the area of its parts, a kerf added on two
 * sides, and so does labor; hardware for several jobs by what each wants of it, slides evenly over the drawers on them, other hardware
 * evenly over a job's drawers; delivery and tax by the goods. */
struct dw_share {
    const char *path;       /* "Plan chest", "Plan chest/left/2" */
    int level;              /* 0: a job; 1: a case, or what is listed by hand; 2: a drawer, or the case's own parts */
    size_t job;
    dw_money money_out;     /* of `total` */
    dw_money consumed;      /* of `cost` */
};

struct dw_leeway; /* leeway.h */

struct dw_purchase {
    const char *plan_mark;  /* short mark of the plan, printed on every page: from its contents */
    const char *follows;    /* mark of the plan that this one replaces; NULL */
    const struct dw_given *given; /* what plans before this one settled */
    size_t given_count;
    int64_t seen;           /* how far that one's history was known */
    const struct dw_layouts *layouts;
    const struct dw_buy_line *lines;
    size_t line_count;
    const struct dw_goods *goods; /* beside sheets; bought: now and with the plans before, so that it may be more than wanted */
    size_t goods_count;
    const struct dw_order *orders;
    size_t order_count;
    const char *const *cautions;            /* for the shopping list: what to look at before paying */
    size_t caution_count;
    const struct dw_cost_line *money_out;   /* view 1: what leaves the purse now */
    size_t money_out_count;
    const struct dw_cost_line *consumed;    /* view 2: what the job uses */
    size_t consumed_count;
    dw_money sheets_cost;   /* sheets, breaks and delivery: what was minimized */
    dw_money lower_bound;   /* of that */
    bool proved;
    bool coupled;           /* price breaks or deliveries tie the materials together: only the bound on all of them says anything */
    dw_money total;         /* all money out, tax included */
    dw_money cost;          /* consumed, with labor, before mark-up */
    dw_money price;         /* with mark-up on cost */
    dw_money price_margin;  /* were the same rate a margin of the price instead */
    const struct dw_choice *choices;
    size_t choice_count;
    const struct dw_share *shares;          /* all of level 0, then of level 1, then of level 2; each level adds up */
    size_t share_count;
    enum dw_cut_stop stop;
    const struct dw_leeway *leeway;         /* how sizes gave for this plan; NULL when none were to. Set by dw_leeway_tell */
    const struct dw_leeway *near;           /* what small change would save a sheet; NULL when nobody looked */
};

/* Lays out every material (dw_layout_problems, the cutting room, dw_layout_make) with the sheet counts that cost least in all, and
 * reckons the cost. DW_IMPOSSIBLE when a material cannot be cut from what is offered. */
enum dw_status dw_purchase_make(const struct dw_parts *const *jobs, size_t job_count, const struct dw_layout_options *options,
                                const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_purchase **purchase);

/* Of so many sheets to cut, how many to buy (a price break may make more cost less) and what they cost. count is the most that can
 * be had, or DW_NO_LIMIT. */
struct dw_deal {
    int64_t count;
    dw_money each, total;
};
struct dw_deal dw_best_deal(const struct dw_sheet_offer *offer, int64_t wanted);

/* A price from a cost of 0 or more: with a mark-up on the cost, and with a margin of the price (under 1 000 000 ppm). Rounded half up. */
dw_money dw_price_markup(dw_money cost, dw_ppm rate);
dw_money dw_price_margin(dw_money cost, dw_ppm rate);

/* "nothing cheaper exists" or "could still save at most 12.00", in `arena` (inside a guard). */
const char *dw_purchase_bound_words(struct dw_arena *arena, dw_money cost, dw_money lower_bound, bool proved, struct dw_currency currency);

#endif
