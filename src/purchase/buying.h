/* buying.h - what the files of this room hand to one another while a purchase is made. All of it lives under one guard. */
#ifndef DWI_PURCHASE_BUYING_H
#define DWI_PURCHASE_BUYING_H

#include <drawerwright/purchase.h>

/* What the job uses, amount by amount; cost.c sets it down, shares.c splits it. */
struct used {
    dw_money *materials; /* one a problem */
    dw_money **needs;    /* one a need of each job */
    dw_money waste, delivery, tax, labor;
};

struct buying {
    const struct dw_parts *const *jobs;
    size_t job_count;
    const struct dw_layout_options *options; /* never NULL */
    const struct dw_control *control;        /* never NULL */
    int64_t deadline;                        /* of the clock, milliseconds; 0: none */
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_faults *tries;                 /* of what was tried; told only where it counts */
    const struct dw_layout_problem *problems;
    size_t problem_count;
    /* the sheets chosen: for each problem a plan */
    const struct dw_cut_plan **plans;
    dw_money sheets_cost, lower_bound;
    bool proved;
    enum dw_cut_stop stop;
    struct used used;
    struct dw_purchase *purchase;
};

static inline const struct dw_shop *shop_of(const struct buying *buying)
{
    return &buying->jobs[0]->sizing->job->shop;
}

static inline struct dw_currency currency_of(const struct buying *buying)
{
    return shop_of(buying)->prices.currency;
}

/* Sheets used of each source of a plan: source_count numbers. */
int64_t *dwi_buying_counts(const struct buying *buying, size_t problem, const struct dw_cut_plan *plan);

/* What sheets in these numbers cost: the best deals, and delivery by every supplier that then has something to bring. counts[m] are the
 * numbers of problem m. */
dw_money dwi_buying_price(const struct buying *buying, const int64_t *const *counts);
dw_money dwi_buying_plans_price(const struct buying *buying, const struct dw_cut_plan *const *plans);
dw_money dwi_buying_delivery(const struct buying *buying, const char *supplier);

/* Anything but sheets comes from this supplier, so that he is paid for delivery whatever the sheets. */
bool dwi_buying_brings_hardware(const struct buying *buying, const char *supplier);

/* sheets.c: fills plans, sheets_cost, lower_bound, proved, stop. False with faults when there is no plan. */
bool dwi_buying_sheets(struct buying *buying);

/* clock.c: milliseconds left until the deadline, at least 0; INT64_MAX without one. And the control for a call that begins now. */
int64_t dwi_buying_clock(void);
int64_t dwi_buying_left(const struct buying *buying);
struct dw_control dwi_buying_control(const struct buying *buying);

/* known.c: the plan of this problem among those the options say are known; NULL. */
const struct dw_cut_plan *dwi_buying_known(const struct buying *buying, size_t problem);

/* side_by_side.c: solves every problem at first prices, with the threads that the options allow. Fills plans; false with faults. */
bool dwi_buying_solve_all(struct buying *buying);

/* Units of work that the patience asked for allows one material. */
int64_t dwi_buying_work(const struct buying *buying);

/* bargain.c: from plans at first prices and their cost to the cheapest ones under the price rules, within `work` units. */
void dwi_buying_bargain(struct buying *buying, int64_t work);

/* lay_out.c: fills the purchase's layouts; a plan that no saw can cut is replaced. False with faults when one cannot be. */
bool dwi_buying_lay_out(struct buying *buying);

/* shopping.c: a length with its unit, in that of the two in which it is exact, the job's by preference. */
const char *dwi_buying_length(const struct buying *buying, dw_length length);

/* yard.c: what to have cut at the yard, a line for each way in which a sheet is: so many lines, and the words. */
size_t dwi_buying_yard_count(const struct buying *buying);
void dwi_buying_yard(const struct buying *buying, const char **words);

/* Each fills its part of the purchase, in this order. */
void dwi_buying_lines(struct buying *buying);
void dwi_buying_cost(struct buying *buying);
void dwi_buying_shares(struct buying *buying);
void dwi_buying_choices(struct buying *buying);
void dwi_buying_mark(struct buying *buying);

#endif
