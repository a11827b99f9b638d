/* coupled.c - coupled sizes (the fronts of banks, slides of other prices) chosen by an integer program over layouts and sizes.
 *
 * The program is that of size_program.c. All other knobs stand at their smallest, which costs least whatever is chosen. Three things take turns:
 *
 * 1. Column generation. Dual values of the relaxed program, rounded down to whole numbers u, ask the cutting room for the most valuable layout of each
 *    sheet, any number of each part; what it is worth, v, makes a row: sum of v n >= what the least setting wants by u (least_wish.c). Every setting obeys it.
 * 2. Whole settings. The program in whole numbers over the layouts at hand names a setting; it is priced like any corner, by the search and the
 *    proofs of the cutting room, whose layouts join. Until it names nothing cheaper than what was priced.
 * 3. The lowest mix. The least money for which sheets and slides obey all rows is a bound on all settings. Below the cost in hand, the program
 *    relaxed within that mix either breaks it (its dual values make a row that the mix does not obey) or has layouts for it: then 2 again.
 *
 * Floating-point numbers propose; rows and the lowest mix are integers (docs/cutting.md, "Sizes that give").
 */
#include "coupled.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { ROUNDS_MOST = 60, ROWS_MOST = 150, SETTINGS_MOST = 12, MIXES_MOST = 60, COLUMNS_WORK = 10, NODES_MOST = 40, MOST_VALUE = 1 << 26 };

struct generating {
    struct dwi_columns columns;
    struct dw_cut_request *requests;      /* of each material of which anything is chosen: its items */
    struct dw_cut_valuer **valuers;       /* of each material; NULL: nothing is chosen of it */
    size_t **items;                       /* of each material: the items of its request's parts */
    struct dwi_row *rows;
    size_t row_count;
    struct dwi_setting best;              /* the cheapest setting priced */
    struct dwi_target target;             /* what it comes to */
};

/* What the best setting costs of what the program weighs: materials of which something is chosen, and slides. */
static dw_money chosen_cost(const struct generating *generating)
{
    dw_money cost = generating->target.extra;
    for (size_t m = 0; m < generating->columns.choices->problem_count; m++)
        cost += generating->valuers[m] != NULL ? generating->target.costs[m] : 0;
    return cost;
}

static bool work_left(const struct generating *generating)
{
    return generating->columns.work > 0;
}

/* ---- setting up --------------------------------------------------------------------------------------------------------- */

static void index_wants(struct dwi_columns *columns)
{
    const struct dwi_choices *choices = columns->choices;
    size_t cells = 0;
    columns->first_cell = dw_arena_alloc(columns->arena, choices->group_count, sizeof *columns->first_cell);
    for (size_t g = 0; g < choices->group_count; g++) {
        columns->first_cell[g] = cells;
        cells += choices->groups[g].inner_count * choices->groups[g].outer_count;
    }
    columns->first_want = dw_arena_alloc(columns->arena, cells + 1, sizeof *columns->first_want);
    for (size_t w = 0; w < choices->want_count; w++)
        columns->first_want[columns->first_cell[choices->wants[w].group] + choices->wants[w].cell + 1]++;
    for (size_t i = 0; i < cells; i++)
        columns->first_want[i + 1] += columns->first_want[i];
}

static void open_ranges(struct dwi_columns *columns)
{
    const struct dwi_choices *choices = columns->choices;
    columns->low = dw_arena_alloc(columns->arena, choices->count, sizeof *columns->low);
    columns->high = dw_arena_alloc(columns->arena, choices->count, sizeof *columns->high);
    columns->first_value = dw_arena_alloc(columns->arena, choices->count + 1, sizeof *columns->first_value);
    for (size_t c = 0; c < choices->count; c++) {
        columns->high[c] = choices->at[c].value_count - 1;
        columns->first_value[c + 1] = columns->first_value[c] + choices->at[c].value_count;
    }
}

/* A material of which no drawer with a choice wants anything costs the same whatever is chosen. */
static bool is_chosen(const struct dwi_choices *choices, size_t material)
{
    for (size_t w = 0; w < choices->want_count; w++)
        if (choices->items[choices->wants[w].item].material == material)
            return true;
    return false;
}

static void add_sources(struct generating *generating, size_t m)
{
    struct dwi_columns *columns = &generating->columns;
    const struct dw_cut_request *asked = &columns->choices->problems[m].request;
    int64_t pieces = 0;
    for (size_t p = 0; p < asked->part_count; p++)
        pieces += asked->parts[p].count;
    for (size_t s = 0; s < asked->sheet_count; s++)
        columns->sources[columns->source_count++] =
            (struct dwi_source){.material = m, .sheet = s, .price = asked->sheets[s].price,
                                .most = asked->sheets[s].count < 0 ? pieces : dw_least(pieces, asked->sheets[s].count)};
}

static void add_material(struct generating *generating, size_t m)
{
    struct dw_arena *arena = generating->columns.arena;
    const struct dwi_choices *choices = generating->columns.choices;
    struct dw_cut_part *parts = dw_arena_alloc(arena, choices->item_count, sizeof *parts);
    struct dw_cut_request *request = &generating->requests[m];
    generating->items[m] = dw_arena_alloc(arena, choices->item_count, sizeof **generating->items);
    *request = choices->problems[m].request;
    request->parts = parts;
    request->part_count = 0;
    for (size_t i = 0; i < choices->item_count; i++) {
        if (choices->items[i].material != m)
            continue;
        generating->items[m][request->part_count] = i;
        parts[request->part_count] = choices->items[i].part;
        parts[request->part_count++].count = 1;
    }
    generating->valuers[m] = dw_cut_valuer_new(request, arena);
    add_sources(generating, m);
}

static void add_layout(struct generating *generating, size_t source, const int64_t *counts)
{
    struct dwi_columns *columns = &generating->columns;
    const size_t items = columns->choices->item_count;
    for (size_t j = columns->layout_count; j-- > 0;)
        if (columns->layouts[j].source == source && memcmp(columns->layouts[j].counts, counts, items * sizeof *counts) == 0)
            return;
    columns->layouts = dw_arena_grow(columns->arena, columns->layouts, columns->layout_count, &columns->layout_capacity, sizeof *columns->layouts);
    columns->layouts[columns->layout_count++] = (struct dwi_column){source, dw_arena_copy(columns->arena, counts, items, sizeof *counts)};
}

/* The most valuable layout of a source for values of all items; its worth in *worth. Counts by item in `counts`. */
static void value_source(struct generating *generating, size_t source, const int64_t *u, int64_t *worth, int64_t *counts)
{
    const size_t m = generating->columns.sources[source].material;
    const size_t parts = generating->requests[m].part_count;
    struct dw_arena *scratch = dw_arena_child(generating->columns.arena);
    int64_t *of_parts = dw_arena_alloc(scratch, 2 * parts, sizeof *of_parts);
    int64_t work = 0;
    for (size_t p = 0; p < parts; p++)
        of_parts[p] = u[generating->items[m][p]];
    *worth = dw_cut_value(generating->valuers[m], generating->columns.sources[source].sheet, of_parts, of_parts + parts, &work);
    memset(counts, 0, generating->columns.choices->item_count * sizeof *counts);
    for (size_t p = 0; p < parts; p++)
        counts[generating->items[m][p]] = of_parts[parts + p];
    generating->columns.work -= work;
    dw_arena_free(scratch);
}

static int64_t grid_of(const struct dw_cut_request *request, const struct dw_cut_sheet *sheet, dw_length length, dw_length width)
{
    const dw_length along = sheet->length - sheet->trim[0] - sheet->trim[1] + request->kerf;
    const dw_length across = sheet->width - sheet->trim[2] - sheet->trim[3] + request->kerf;
    return dw_most(0, along / (length + request->kerf)) * dw_most(0, across / (width + request->kerf));
}

/* The first layouts: each item alone, in rows and columns. */
static void add_single_layouts(struct generating *generating)
{
    const struct dwi_columns *columns = &generating->columns;
    int64_t *counts = dw_arena_alloc(columns->arena, columns->choices->item_count, sizeof *counts);
    for (size_t s = 0; s < columns->source_count; s++)
        for (size_t i = 0; i < columns->choices->item_count; i++) {
            const struct dwi_item *item = &columns->choices->items[i];
            const struct dw_cut_request *request = &generating->requests[columns->sources[s].material];
            const struct dw_cut_sheet *sheet = &request->sheets[columns->sources[s].sheet];
            if (item->material != columns->sources[s].material)
                continue;
            counts[i] = grid_of(request, sheet, item->part.length, item->part.width);
            if (item->part.turn)
                counts[i] = dw_most(counts[i], grid_of(request, sheet, item->part.width, item->part.length));
            if (counts[i] > 0)
                add_layout(generating, s, counts);
            counts[i] = 0;
        }
}

/* ---- rows ------------------------------------------------------------------------------------------------------------------ */

/* A row of these values, of one material (or all when `material` is beyond them). One that says nothing, or nothing certain, is left out. */
static void add_row(struct generating *generating, const int64_t *u, const int64_t *v, int64_t money, size_t material)
{
    const struct dwi_columns *columns = &generating->columns;
    const struct dwi_choices *choices = columns->choices;
    const bool all = material >= choices->problem_count;
    struct dw_arena *arena = columns->arena;
    if (generating->row_count == ROWS_MOST)
        return;
    int64_t *own_v = dw_arena_alloc(arena, columns->source_count, sizeof *own_v);
    int64_t *own_u = dw_arena_alloc(arena, choices->item_count, sizeof *own_u);
    for (size_t s = 0; s < columns->source_count; s++) {
        own_v[s] = all || columns->sources[s].material == material ? v[s] : 0;
        if (own_v[s] >= DW_CUT_NO_BOUND)
            return;
    }
    for (size_t i = 0; i < choices->item_count; i++)
        own_u[i] = all || choices->items[i].material == material ? u[i] : 0;
    const int64_t rhs = dwi_least_wish(columns, own_u, money, arena);
    if (rhs > 0 && rhs < INT64_MAX / 8)
        generating->rows[generating->row_count++] = (struct dwi_row){own_v, money, rhs};
}

/* Duals as whole numbers, rounded down. */
static int64_t *whole_values(const struct generating *generating, const struct dwi_size_answer *answer, double scale, struct dw_arena *arena)
{
    const size_t count = generating->columns.choices->item_count;
    int64_t *u = dw_arena_alloc(arena, count, sizeof *u);
    for (size_t i = 0; i < count; i++) {
        const double value = answer->u[i] * scale;
        u[i] = value < MOST_VALUE ? (int64_t)value : MOST_VALUE;
    }
    return u;
}

/* Prices all sources for the duals of an answer. Adds layouts that are worth more than their sheets; was there one? v: what the sources are worth. */
static bool price_sources(struct generating *generating, const struct dwi_size_answer *answer, enum dwi_size_goal goal, const int64_t *u, double scale,
                          int64_t *v, struct dw_arena *arena)
{
    const struct dwi_columns *columns = &generating->columns;
    int64_t *counts = dw_arena_alloc(arena, columns->choices->item_count, sizeof *counts);
    const size_t before = columns->layout_count;
    for (size_t s = 0; s < columns->source_count; s++) {
        value_source(generating, s, u, &v[s], counts);
        const double price = goal == DWI_LEAST_MONEY ? (double)columns->sources[s].price : 0;
        if ((double)v[s] > scale * (price + answer->held[s]) * (1 + 1e-6))
            add_layout(generating, s, counts);
    }
    return columns->layout_count > before;
}

static double scale_for(const struct generating *generating, enum dwi_size_goal goal)
{
    dw_money dearest = 1;
    for (size_t s = 0; s < generating->columns.source_count; s++)
        dearest = dw_most(dearest, generating->columns.sources[s].price);
    return goal == DWI_LEAST_MONEY ? (double)MOST_VALUE / (double)dearest : (double)(1 << 20);
}

static void add_rows(struct generating *generating, const int64_t *u, const int64_t *v, int64_t money)
{
    const struct dwi_choices *choices = generating->columns.choices;
    for (size_t m = 0; m < choices->problem_count; m++)
        if (generating->valuers[m] != NULL)
            add_row(generating, u, v, money, m);
    add_row(generating, u, v, money, choices->problem_count);
}

/* The row that says by area, exactly scaled down, what is wanted: where no dual value has said it yet. */
static void add_area_row(struct generating *generating)
{
    const struct dwi_columns *columns = &generating->columns;
    const struct dwi_choices *choices = columns->choices;
    struct dw_arena *scratch = dw_arena_child(columns->arena);
    int64_t *u = dw_arena_alloc(scratch, choices->item_count, sizeof *u);
    int64_t *v = dw_arena_alloc(scratch, columns->source_count, sizeof *v);
    int64_t *counts = dw_arena_alloc(scratch, choices->item_count, sizeof *counts);
    dw_area largest = 1;
    for (size_t i = 0; i < choices->item_count; i++)
        largest = dw_most(largest, choices->items[i].part.length * choices->items[i].part.width);
    for (size_t i = 0; i < choices->item_count; i++)
        u[i] = choices->items[i].part.length * choices->items[i].part.width / (largest / (1 << 20) + 1);
    for (size_t s = 0; s < columns->source_count; s++) {
        value_source(generating, s, u, &v[s], counts);
        add_layout(generating, s, counts);
    }
    for (size_t m = 0; m < choices->problem_count; m++)
        if (generating->valuers[m] != NULL)
            add_row(generating, u, v, 0, m);
    dw_arena_free(scratch);
}

/* ---- 1. column generation --------------------------------------------------------------------------------------------------- */

/* Until no layout is worth more than its sheet. */
static void generate(struct generating *generating)
{
    const double scale = scale_for(generating, DWI_LEAST_MONEY);
    const size_t sources = generating->columns.source_count;
    bool more = true;
    for (int round = 0; more && round < ROUNDS_MOST && work_left(generating); round++) {
        struct dw_arena *scratch = dw_arena_child(generating->columns.arena);
        int64_t *v = dw_arena_alloc(scratch, sources, sizeof *v);
        const struct dwi_size_answer answer = dwi_size_program(&generating->columns, DWI_LEAST_MONEY, NULL, 0, 0, scratch);
        more = answer.solved;
        if (more) {
            const int64_t *u = whole_values(generating, &answer, scale, scratch);
            more = price_sources(generating, &answer, DWI_LEAST_MONEY, u, scale, v, scratch);
            if (!more || round % 8 == 7)
                add_rows(generating, u, v, (int64_t)scale);
        }
        dw_arena_free(scratch);
    }
}

/* ---- 2. whole settings ------------------------------------------------------------------------------------------------------ */

static size_t source_of(const struct dwi_columns *columns, size_t material, size_t sheet)
{
    size_t s = 0;
    while (columns->sources[s].material != material || columns->sources[s].sheet != sheet)
        s++;
    return s;
}

/* Layouts of the plans that the cutting room found for the setting at hand. */
static void take_layouts(struct generating *generating, const struct dwi_price *price)
{
    const struct dwi_columns *columns = &generating->columns;
    int64_t *counts = dw_arena_alloc(columns->arena, columns->choices->item_count, sizeof *counts);
    for (size_t l = 0; l < price->layout_count; l++) {
        memset(counts, 0, columns->choices->item_count * sizeof *counts);
        bool known = true;
        for (size_t p = 0; p < price->demand.count; p++) {
            const size_t item = dwi_choices_item(columns->choices, price->material, &price->demand.parts[p]);
            known = known && item != DW_NO_INDEX;
            if (item != DW_NO_INDEX)
                counts[item] += price->layouts[l].counts[p];
        }
        if (known)
            add_layout(generating, source_of(columns, price->material, price->layouts[l].sheet), counts);
    }
}

static void take_all_layouts(struct generating *generating)
{
    const struct dwi_search *search = generating->columns.search;
    for (size_t i = 0; i < search->price_count; i++)
        if (generating->valuers[search->prices[i].material] != NULL)
            take_layouts(generating, &search->prices[i]);
}

/* Prices the knobs at these values; keeps them when they are the cheapest. *bound: what they come to at least. */
static bool price_setting(struct generating *generating, const size_t *values, dw_money *bound)
{
    struct dwi_search *search = generating->columns.search;
    struct dwi_target target;
    dwi_choices_take(generating->columns.choices, values, &search->knobs);
    *bound = 0;
    if (!dwi_price_corner(search, &target))
        return false;
    *bound = target.bound;
    take_all_layouts(generating);
    if (target.cost >= generating->target.cost)
        return false;
    generating->target = target;
    generating->best = dwi_setting_save(&search->knobs, search->arena);
    return true;
}

/* Settings that the program names, until it names none that is cheaper; true when there was one. */
static bool try_settings(struct generating *generating)
{
    bool better = false;
    for (int i = 0; i < SETTINGS_MOST && work_left(generating); i++) {
        struct dw_arena *scratch = dw_arena_child(generating->columns.arena);
        dw_money bound = 0;
        const struct dwi_size_answer answer = dwi_size_program(&generating->columns, DWI_WHOLE, NULL, 0, chosen_cost(generating), scratch);
        const bool cheaper = answer.solved && price_setting(generating, answer.values, &bound);
        dw_arena_free(scratch);
        if (!cheaper)
            break;
        better = true;
    }
    return better;
}

/* ---- 3. the lowest mix ------------------------------------------------------------------------------------------------------- */

/* What became of a mix: a cheaper setting came up, no setting within it is cheaper than the best, or neither. */
enum fate { CHEAPER, REFUSED, OPEN };

struct mix {
    const int64_t *counts;
    dw_money extra;
    int nodes;               /* left */
};

static bool obeys(const struct dwi_columns *columns, const struct dwi_row *row, const struct mix *mix)
{
    int64_t sum = row->money * mix->extra;
    for (size_t s = 0; s < columns->source_count; s++)
        sum += row->v[s] * mix->counts[s];
    return sum >= row->rhs;
}

/* Relaxes the program within the mix, the choices within their ranges, until it lacks nothing (OPEN, shares in *answer) or a row that the mix breaks comes
 * up, which then stands last (REFUSED). OPEN without shares: the work is done. */
static enum fate relax_within(struct generating *generating, const struct mix *mix, struct dwi_size_answer *answer, struct dw_arena *arena)
{
    const double scale = scale_for(generating, DWI_WITHIN_MIX);
    int64_t *v = dw_arena_alloc(arena, generating->columns.source_count, sizeof *v);
    bool more = true;
    for (int round = 0; more && round < ROUNDS_MOST && work_left(generating); round++) {
        const size_t before = generating->row_count;
        *answer = dwi_size_program(&generating->columns, DWI_WITHIN_MIX, mix->counts, mix->extra, 0, arena);
        if (!answer->solved || answer->value <= 1e-6)
            return OPEN;
        const int64_t *u = whole_values(generating, answer, scale, arena);
        more = price_sources(generating, answer, DWI_WITHIN_MIX, u, scale, v, arena);
        add_row(generating, u, v, (int64_t)(answer->money * scale), generating->columns.choices->problem_count);
        if (generating->row_count > before && !obeys(&generating->columns, &generating->rows[before], mix))
            return REFUSED;
        generating->row_count = before;
    }
    answer->solved = false;
    return OPEN;
}

/* Where to part a choice's range, so that neither half has all its shares: the last value of the lower half; DW_NO_INDEX when one value has all. */
static size_t parting(const struct generating *generating, const double *shares, size_t choice)
{
    const struct dwi_columns *columns = &generating->columns;
    double sum = 0;
    for (size_t v = columns->low[choice]; v < columns->high[choice]; v++) {
        sum += shares[v];
        if (sum > 1e-6 && sum < 1 - 1e-6)
            return v;
    }
    return DW_NO_INDEX;
}

static enum fate look_within(struct generating *generating, struct mix *mix);

static enum fate worse(enum fate a, enum fate b)
{
    return a == CHEAPER || b == CHEAPER ? CHEAPER : a == OPEN || b == OPEN ? OPEN : REFUSED;
}

/* Looks within the mix with a choice held to a part of its range, which may be empty. */
static enum fate look_part(struct generating *generating, struct mix *mix, size_t choice, size_t low, size_t high)
{
    struct dwi_columns *columns = &generating->columns;
    const size_t old_low = columns->low[choice];
    const size_t old_high = columns->high[choice];
    if (low > high)
        return REFUSED;
    columns->low[choice] = low;
    columns->high[choice] = high;
    const enum fate fate = look_within(generating, mix);
    columns->low[choice] = old_low;
    columns->high[choice] = old_high;
    return fate;
}

/* Whole values: the setting is priced. Then what else there is in the ranges, by the first choice that has more than one value. */
static enum fate look_at_setting(struct generating *generating, struct mix *mix, const size_t *values)
{
    const struct dwi_columns *columns = &generating->columns;
    dw_money bound = 0;
    if (price_setting(generating, values, &bound))
        return CHEAPER;
    enum fate fate = bound >= generating->target.cost ? REFUSED : OPEN;
    for (size_t c = 0; c < columns->choices->count; c++) {
        const size_t low = columns->low[c];
        const size_t high = columns->high[c];
        if (low == high)
            continue;
        fate = values[c] > low ? look_part(generating, mix, c, low, values[c] - 1) : REFUSED;
        if (fate != CHEAPER)
            fate = worse(fate, look_part(generating, mix, c, values[c], values[c]));
        if (fate != CHEAPER && values[c] < high)
            fate = worse(fate, look_part(generating, mix, c, values[c] + 1, high));
        return fate;
    }
    return fate;
}

/* Branch and bound over the values of the choices, within the mix. */
static enum fate look_within(struct generating *generating, struct mix *mix)
{
    const struct dwi_columns *columns = &generating->columns;
    struct dw_arena *scratch = dw_arena_child(columns->arena);
    size_t *values = dw_arena_alloc(scratch, columns->choices->count, sizeof *values);
    struct dwi_size_answer answer;
    const size_t rows = generating->row_count;
    size_t choice = DW_NO_INDEX;
    size_t last = 0;
    enum fate fate = mix->nodes-- > 0 ? relax_within(generating, mix, &answer, scratch) : OPEN;
    generating->row_count = rows; /* a row of narrower ranges says nothing of all */
    if (fate != OPEN || mix->nodes < 0 || !answer.solved) {
        dw_arena_free(scratch);
        return fate;
    }
    for (size_t c = 0; c < columns->choices->count; c++) {
        const double *shares = answer.shares + columns->first_value[c];
        last = choice == DW_NO_INDEX ? parting(generating, shares, c) : last;
        choice = choice == DW_NO_INDEX && last != DW_NO_INDEX ? c : choice;
        for (size_t v = columns->low[c]; v <= columns->high[c]; v++)
            values[c] = shares[v] > 0.5 ? v : values[c];
    }
    if (choice == DW_NO_INDEX) {
        fate = look_at_setting(generating, mix, values);
    } else {
        const size_t low = columns->low[choice];
        const size_t high = columns->high[choice];
        fate = look_part(generating, mix, choice, low, last);
        if (fate != CHEAPER)
            fate = worse(fate, look_part(generating, mix, choice, last + 1, high));
    }
    dw_arena_free(scratch);
    return fate;
}

/* A row that the mix breaks, or a cheaper setting; then the settings within it one by one. */
static enum fate settle(struct generating *generating, struct dwi_mixing *mixing, const int64_t *counts, dw_money extra)
{
    struct dw_arena *scratch = dw_arena_child(generating->columns.arena);
    struct mix mix = {.counts = counts, .extra = extra, .nodes = NODES_MOST};
    struct dwi_size_answer answer;
    enum fate fate = relax_within(generating, &mix, &answer, scratch);
    dw_arena_free(scratch);
    if (fate == OPEN && try_settings(generating))
        fate = CHEAPER;
    if (fate == OPEN) {
        fate = look_within(generating, &mix);
        if (fate == REFUSED)
            dwi_refuse_mix(mixing, counts, extra, generating->columns.arena);
    }
    return fate;
}

/* What no setting comes below: of materials of which something is chosen, slides included. */
static dw_money bound_mixes(struct generating *generating)
{
    struct dwi_columns *columns = &generating->columns;
    struct dwi_mixing mixing = {.sources = columns->sources, .source_count = columns->source_count, .rows = generating->rows};
    mixing.extras = dwi_all_extras(columns->choices, &columns->search->knobs, &mixing.extra_count, columns->arena);
    int64_t *counts = dw_arena_alloc(columns->arena, columns->source_count, sizeof *counts);
    dw_money bound = 0;
    for (int i = 0; i < MIXES_MOST && work_left(generating); i++) {
        const dw_money below = chosen_cost(generating);
        dw_money extra = 0;
        mixing.row_count = generating->row_count;
        const dw_money lowest = dwi_lowest_mix(&mixing, below, counts, &extra, columns->arena);
        bound = dw_most(bound, lowest);
        if (lowest < 0 || lowest == below || settle(generating, &mixing, counts, extra) == OPEN)
            break;
    }
    return bound;
}

/* ---- all of it -------------------------------------------------------------------------------------------------------------- */

/* What the materials of which nothing is chosen come to at least, with the rest of what is the same for all settings. */
static dw_money bound_others(const struct generating *generating)
{
    const struct dwi_target *target = &generating->target;
    dw_money bound = target->cost - chosen_cost(generating);
    for (size_t m = 0; m < generating->columns.choices->problem_count; m++)
        bound -= generating->valuers[m] == NULL ? target->costs[m] - target->bounds[m] : 0;
    return bound;
}

static void set_up(struct generating *generating)
{
    struct dwi_columns *columns = &generating->columns;
    const size_t materials = columns->choices->problem_count;
    size_t sources = 0;
    index_wants(columns);
    open_ranges(columns);
    for (size_t m = 0; m < materials; m++)
        sources += columns->choices->problems[m].request.sheet_count;
    columns->sources = dw_arena_alloc(columns->arena, sources, sizeof *columns->sources);
    generating->requests = dw_arena_alloc(columns->arena, materials, sizeof *generating->requests);
    generating->valuers = dw_arena_alloc(columns->arena, materials, sizeof(struct dw_cut_valuer *));
    generating->items = dw_arena_alloc(columns->arena, materials, sizeof(size_t *));
    generating->rows = dw_arena_alloc(columns->arena, ROWS_MOST, sizeof *generating->rows);
    for (size_t m = 0; m < materials; m++)
        if (is_chosen(columns->choices, m))
            add_material(generating, m);
}

void dwi_columns(struct dwi_search *search, const struct dwi_choices *choices, struct dw_arena *arena)
{
    struct generating generating = {.columns = {.search = search, .choices = choices, .arena = arena, .work = COLUMNS_WORK * search->corner_work},
                                    .target = search->target,
                                    .best = dwi_setting_save(&search->knobs, search->arena)};
    set_up(&generating);
    const dw_money others = bound_others(&generating);
    add_single_layouts(&generating);
    add_area_row(&generating);
    take_all_layouts(&generating);
    generate(&generating);
    (void)try_settings(&generating);
    const bool bounded = choices->whole && !search->before->coupled;
    const dw_money bound = bounded ? bound_mixes(&generating) : 0;
    dwi_setting_restore(&search->knobs, &generating.best);
    search->target = generating.target;
    search->target.bound = bounded && bound > 0 ? others + bound : 0;
}
