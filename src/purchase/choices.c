/* choices.c - what other choices of sheets would come to, side by side with the cheapest.
 *
 * Each choice is the same problem with other prices or fewer sheets on offer, solved again:
 *   only full sheets   sizes under three quarters of the material's largest are not bought
 *   fewest sheets      every sheet bought costs the same
 *   least waste        a sheet costs its area
 *   everything from X  no other supplier's sheets
 * and then priced as the purchase is. A choice that leaves all as it was is not listed. Materials without a choice keep their plan.
 */
#include "buying.h"

#include <string.h>

#include <drawerwright/memory.h>

enum aim { AIM_FULL, AIM_FEWEST, AIM_LEAST, AIM_SUPPLIER };

struct choosing {
    struct buying *buying;
    enum aim aim;
    const char *supplier; /* AIM_SUPPLIER */
};

static dw_area largest_offer(const struct dw_layout_problem *problem)
{
    dw_area largest = 0;
    for (size_t s = 0; s < problem->source_count; s++) {
        const struct dw_sheet_source *source = &problem->sources[s];
        if (!source->owned && source->length * source->width > largest)
            largest = source->length * source->width;
    }
    return largest;
}

static dw_money square_millimeters(const struct dw_sheet_source *source)
{
    return source->length / DW_MM * (source->width / DW_MM);
}

/* The sheet as the choice sees it. */
static struct dw_cut_sheet chosen_sheet(const struct choosing *choosing, const struct dw_layout_problem *problem, size_t s)
{
    const struct dw_sheet_source *source = &problem->sources[s];
    struct dw_cut_sheet sheet = problem->request.sheets[s];
    switch (choosing->aim) {
    case AIM_FULL:
        if (!source->owned && source->length * source->width < largest_offer(problem) / 4 * 3)
            sheet.count = 0;
        break;
    case AIM_FEWEST:
        sheet.price = source->owned ? 0 : 1;
        break;
    case AIM_LEAST:
        sheet.price = square_millimeters(source);
        break;
    case AIM_SUPPLIER:
        if (!source->owned && strcmp(source->supplier, choosing->supplier) != 0)
            sheet.count = 0;
        break;
    }
    return sheet;
}

static bool is_same_sheet(const struct dw_cut_sheet *a, const struct dw_cut_sheet *b)
{
    return a->price == b->price && a->count == b->count;
}

/* The plan of one material under the choice; NULL when there is none. *changed is set when the choice asked for another one. */
static const struct dw_cut_plan *plan_for(const struct choosing *choosing, size_t m, bool *changed)
{
    struct buying *buying = choosing->buying;
    const struct dw_layout_problem *problem = &buying->problems[m];
    struct dw_cut_sheet *sheets = dw_arena_alloc(buying->arena, problem->source_count, sizeof *sheets);
    bool same = true;
    for (size_t s = 0; s < problem->source_count; s++) {
        sheets[s] = chosen_sheet(choosing, problem, s);
        same = same && is_same_sheet(&sheets[s], &problem->request.sheets[s]);
    }
    if (same || problem->source_count == 1)
        return choosing->aim == AIM_SUPPLIER && sheets[0].count == 0 ? NULL : buying->plans[m];
    struct dw_cut_request request = problem->request;
    request.sheets = sheets;
    request.work = dwi_buying_work(buying) / 4;
    *changed = true;
    const struct dw_cut_plan *plan = NULL;
    const struct dw_control control = dwi_buying_control(buying);
    const enum dw_status status = dw_cut_solve(&request, &control, buying->arena, buying->tries, &plan);
    return status == DW_DONE && plan->outcome == DW_CUT_PLAN ? plan : NULL;
}

/* The area of the parts in a node. */
static dw_area parts_area(const struct dw_cut_node *node)
{
    if (node->use == DW_NODE_PART)
        return node->length * node->width;
    dw_area area = 0;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        area += parts_area(&node->pieces[i]);
    return area;
}

static void add_up_plan(const struct dw_layout_problem *problem, const struct dw_cut_plan *plan, struct dw_choice *choice)
{
    for (size_t i = 0; i < plan->layout_count; i++) {
        const struct dw_cut_layout *layout = &plan->layouts[i];
        const struct dw_sheet_source *source = &problem->sources[layout->sheet];
        choice->sheets += layout->times;
        choice->sheets_area += layout->times * source->length * source->width;
        choice->waste += layout->times * (source->length * source->width - parts_area(&layout->root));
    }
    choice->proved = choice->proved && plan->proved;
}

/* Fills the choice; false when it leaves everything as it was. */
static bool choose(const struct choosing *choosing, struct dw_choice *choice)
{
    struct buying *buying = choosing->buying;
    const struct dw_cut_plan **plans = dw_arena_alloc(buying->arena, buying->problem_count, sizeof *plans);
    bool changed = false;
    choice->possible = choice->proved = true;
    for (size_t m = 0; m < buying->problem_count && choice->possible; m++) {
        plans[m] = plan_for(choosing, m, &changed);
        if (plans[m] == NULL)
            *choice = (struct dw_choice){.name = choice->name};
        else
            add_up_plan(&buying->problems[m], plans[m], choice);
    }
    if (choice->possible)
        choice->total = dwi_buying_plans_price(buying, plans);
    return changed || !choice->possible;
}

/* The suppliers that sell sheets which could be used here. */
static size_t sheet_suppliers(const struct buying *buying, const char **names, size_t most)
{
    size_t count = 0;
    for (size_t m = 0; m < buying->problem_count; m++)
        for (size_t s = 0; s < buying->problems[m].source_count; s++) {
            const struct dw_sheet_source *source = &buying->problems[m].sources[s];
            bool known = source->owned || source->supplier[0] == '\0' || count == most;
            for (size_t i = 0; i < count && !known; i++)
                known = strcmp(names[i], source->supplier) == 0;
            if (!known)
                names[count++] = source->supplier;
        }
    return count;
}

void dwi_buying_choices(struct buying *buying)
{
    enum { AIMS = 3, SUPPLIERS_MOST = 6 };
    static const char *const aim_names[AIMS] = {[AIM_FULL] = "only full sheets", [AIM_FEWEST] = "fewest sheets", [AIM_LEAST] = "least waste"};
    const char *suppliers[SUPPLIERS_MOST];
    const size_t supplier_count = sheet_suppliers(buying, suppliers, SUPPLIERS_MOST);
    struct dw_choice *choices = dw_arena_alloc(buying->arena, AIMS + SUPPLIERS_MOST, sizeof *choices);
    size_t count = 0;
    for (size_t i = 0; i < AIMS + (supplier_count > 1 ? supplier_count : 0) && dwi_buying_left(buying) > 0; i++) {
        const struct choosing choosing = {.buying = buying, .aim = i < AIMS ? (enum aim)i : AIM_SUPPLIER,
                                          .supplier = i < AIMS ? "" : suppliers[i - AIMS]};
        choices[count] = (struct dw_choice){.name = i < AIMS ? aim_names[i]
                                                             : dw_arena_format(buying->arena, "everything from %s", choosing.supplier)};
        if (choose(&choosing, &choices[count]))
            count++;
    }
    buying->purchase->choices = choices;
    buying->purchase->choice_count = count;
}
