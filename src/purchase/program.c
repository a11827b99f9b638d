/* program.c - the buyer's problem as an integer program.
 *
 * For ware w and price tier t (from f_t pieces on at price p_t):
 *   b_wt  integer, bought at this tier      y_wt  binary, the tier is the one in force
 *   f_t y_wt <= b_wt <= most_w y_wt         sum over t of y_wt <= 1
 * For supplier k with a delivery charge d_k: binary z_k, and sum over t of y_wt <= z_k for each ware of his.
 * For each demand: sum over wares of the problem of (v_w / rhs) (sum over t of b_wt) >= 1.
 * Least: sum p_t b_wt + sum d_k z_k.
 *
 * Solved in floating point; that the answer obeys the rows is then seen in integers, that nothing is cheaper is certify.c's word.
 */
#include "bargain.h"

#include <math.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { TIERS_MOST = 64 };

static size_t tier_count(const struct ware *ware)
{
    const size_t count = ware->offer.break_count + 1;
    return count < TIERS_MOST ? count : TIERS_MOST;
}

static int64_t tier_from(const struct ware *ware, size_t tier)
{
    return tier == 0 ? 1 : ware->offer.breaks[tier - 1].from;
}

static dw_money tier_price(const struct ware *ware, size_t tier)
{
    return tier == 0 ? ware->offer.price : ware->offer.breaks[tier - 1].price;
}

/* Rows are numbered: first the demands; then one a ware ("one tier, and its supplier comes"); then two a tier, made with its columns. */
struct model {
    const struct bargain *bargain;
    struct dw_lp *lp;
    int *rows;        /* scratch for one column */
    double *entries;
    int *bought;      /* for each ware its first b column */
    bool sound;
};

static void add_column(struct model *model, double cost, double upper, const int *rows, const double *entries, size_t count, int *column)
{
    *column = dw_lp_add_column(model->lp, cost, 0, upper, true, rows, entries, count);
    model->sound = model->sound && *column >= 0;
}

static void add_tier(struct model *model, size_t w, size_t tier, int ware_row)
{
    const struct ware *ware = &model->bargain->wares[w];
    const int from_row = dw_lp_add_row(model->lp, 0, (double)INFINITY);  /* b - from y >= 0 */
    const int most_row = dw_lp_add_row(model->lp, -(double)INFINITY, 0); /* b - most y <= 0 */
    size_t count = 0;
    for (size_t d = 0; d < model->bargain->demand_count; d++) {
        const struct demand *demand = &model->bargain->demands[d];
        if (demand->problem != ware->problem || demand->v[ware->place] == 0 || demand->rhs <= 0)
            continue;
        model->rows[count] = (int)d;
        model->entries[count++] = (double)demand->v[ware->place] / (double)demand->rhs;
    }
    model->rows[count] = from_row;
    model->entries[count++] = 1;
    model->rows[count] = most_row;
    model->entries[count++] = 1;
    int bought = 0, in_force = 0;
    add_column(model, (double)tier_price(ware, tier), (double)ware->most, model->rows, model->entries, count, &bought);
    const int rows[] = {ware_row, from_row, most_row};
    const double entries[] = {1, -(double)tier_from(ware, tier), -(double)ware->most};
    add_column(model, 0, tier_from(ware, tier) <= ware->most ? 1 : 0, rows, entries, 3, &in_force);
    if (tier == 0)
        model->bought[w] = bought;
}

/* The supplier's column lies in the row of each of his wares: tiers in force less the delivery is at most 0. */
static void add_suppliers(struct model *model, int first_ware_row)
{
    for (int k = 0; k < model->bargain->supplier_count; k++) {
        size_t count = 0;
        for (size_t w = 0; w < model->bargain->ware_count; w++)
            if (model->bargain->wares[w].supplier == k) {
                model->rows[count] = first_ware_row + (int)w;
                model->entries[count++] = -1;
            }
        int delivery = 0;
        add_column(model, (double)model->bargain->deliveries[k], 1, model->rows, model->entries, count, &delivery);
    }
}

struct dw_lp *dwi_program_model(const struct bargain *bargain, struct dw_arena *arena, int *bought_columns)
{
    const size_t room = bargain->demand_count + bargain->ware_count + 2;
    struct model model = {.bargain = bargain, .rows = dw_arena_alloc(arena, room, sizeof *model.rows),
                          .entries = dw_arena_alloc(arena, room, sizeof *model.entries), .bought = bought_columns, .sound = true};
    model.lp = dw_lp_new();
    if (model.lp == NULL)
        return NULL;
    for (size_t d = 0; d < bargain->demand_count; d++) {
        const bool asks = bargain->demands[d].rhs > 0;
        (void)dw_lp_add_row(model.lp, asks ? 1 : 0, (double)INFINITY);
    }
    const int first_ware_row = (int)bargain->demand_count;
    for (size_t w = 0; w < bargain->ware_count; w++)
        (void)dw_lp_add_row(model.lp, -(double)INFINITY, bargain->wares[w].supplier < 0 ? 1 : 0);
    for (size_t w = 0; w < bargain->ware_count; w++)
        for (size_t tier = 0; tier < tier_count(&bargain->wares[w]); tier++)
            add_tier(&model, w, tier, first_ware_row + (int)w);
    add_suppliers(&model, first_ware_row);
    if (model.sound)
        return model.lp;
    dw_lp_free(model.lp);
    return NULL;
}

/* Reads the numbers bought; true when they obey the rows. */
static bool read_mix(const struct bargain *bargain, const struct dw_lp *lp, const int *bought, struct mix *mix)
{
    for (size_t w = 0; w < bargain->ware_count; w++) {
        mix->counts[w] = 0;
        for (size_t tier = 0; tier < tier_count(&bargain->wares[w]); tier++)
            mix->counts[w] += dw_lp_integer_value(lp, bought[w] + 2 * (int)tier);
    }
    mix->cost = dwi_bargain_cost(bargain, mix->counts);
    return dwi_bargain_obeys(bargain, mix->counts);
}

bool dwi_program_solve(const struct bargain *bargain, int64_t nodes, struct dw_arena *arena, struct mix *mix)
{
    int *bought = dw_arena_alloc(arena, bargain->ware_count, sizeof *bought);
    struct dw_lp *lp = dwi_program_model(bargain, arena, bought);
    if (lp == NULL)
        return false;
    const enum dw_lp_answer answer = dw_lp_solve_integer(lp, nodes, (double)INFINITY);
    const bool found = (answer == DW_LP_OPTIMAL || answer == DW_LP_FEASIBLE) && read_mix(bargain, lp, bought, mix);
    dw_lp_free(lp);
    return found;
}
