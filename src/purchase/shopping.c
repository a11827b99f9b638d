/* shopping.c - the shopping list: what to buy at each supplier, in one run of lines a supplier. */
#include "buying.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

struct list {
    struct buying *buying;
    const char **suppliers; /* in the order in which they are first met */
    size_t supplier_count, supplier_capacity;
    struct dw_buy_line *lines; /* unordered */
    size_t line_count, line_capacity;
};

static void add_line(struct list *list, struct dw_buy_line line)
{
    struct dw_arena *arena = list->buying->arena;
    list->lines = dw_arena_grow(arena, list->lines, list->line_count, &list->line_capacity, sizeof *list->lines);
    list->lines[list->line_count++] = line;
    for (size_t i = 0; i < list->supplier_count; i++)
        if (strcmp(list->suppliers[i], line.supplier) == 0)
            return;
    list->suppliers = dw_arena_grow(arena, list->suppliers, list->supplier_count, &list->supplier_capacity, sizeof *list->suppliers);
    list->suppliers[list->supplier_count++] = line.supplier;
}

const char *dwi_buying_length(const struct buying *buying, dw_length length)
{
    const enum dw_unit unit = buying->jobs[0]->sizing->job->unit;
    const struct dw_length_style own = {.unit = unit, .denominator = 64, .decimals = -1};
    const struct dw_length_style other = {.unit = unit == DW_IN ? DW_MILLIMETER : DW_IN, .denominator = 64, .decimals = -1};
    const bool foreign = !dw_length_is_exact(length, own) && dw_length_is_exact(length, other);
    return dw_length_show_unit(buying->arena, length, foreign ? other : own);
}

/* "1/2 birch plywood, 96 in x 48 in, grain along 96 in, measures 15/32 in". */
static const char *sheet_words(const struct buying *buying, const struct dw_material *material, const struct dw_sheet_source *source)
{
    struct dw_arena *arena = buying->arena;
    const char *along = dwi_buying_length(buying, source->grain_across ? source->width : source->length);
    const char *grain = !material->grained ? "" : dw_arena_format(arena, ", grain along %s", along);
    return dw_arena_format(arena, "%s, %s x %s%s, measures %s", material->name, dwi_buying_length(buying, source->length),
                           dwi_buying_length(buying, source->width), grain, dwi_buying_length(buying, material->thickness));
}

static void add_sheets(struct list *list)
{
    const struct buying *buying = list->buying;
    for (size_t m = 0; m < buying->problem_count; m++) {
        const struct dw_layout_problem *problem = &buying->problems[m];
        const struct dw_material *material = &shop_of(buying)->materials[problem->material];
        const int64_t *counts = dwi_buying_counts(buying, m, buying->plans[m]);
        for (size_t s = 0; s < problem->source_count; s++) {
            const struct dw_sheet_source *source = &problem->sources[s];
            if (source->owned || counts[s] == 0)
                continue;
            const struct dw_deal deal = dw_best_deal(&material->sheets[source->offer], counts[s]);
            add_line(list, (struct dw_buy_line){.supplier = source->supplier, .id = source->id,
                                                .what = sheet_words(buying, material, source), .count = deal.count, .used = counts[s],
                                                .each = deal.each, .total = deal.total, .material = m, .source = s});
        }
    }
}

/* Only sheets can be bought elsewhere when a supplier is left out. */
static void warn_left_out(const struct buying *buying, const struct dw_need *need)
{
    const struct dw_shop *shop = shop_of(buying);
    for (size_t i = 0; i < shop->supplier_count; i++)
        if (shop->suppliers[i].left_out && strcmp(shop->suppliers[i].name, need->supplier) == 0)
            dw_warn(buying->faults, "left-out", dw_address_index(buying->arena, "shop.suppliers", i),
                    "%s is left out, and %s is still on the list from there\nname another supplier for it", need->supplier, need->name);
}

static int64_t pack_of(const struct buying *buying, size_t job, const struct dw_need *need)
{
    const struct dw_shop *shop = &buying->jobs[job]->sizing->job->shop;
    return need->kind == DW_NEED_HARDWARE && need->index != DW_NO_INDEX ? dw_most(1, shop->hardware[need->index].pack) : 1;
}

static dw_length roll_of(const struct buying *buying, size_t job, const struct dw_need *need)
{
    return buying->jobs[job]->sizing->job->shop.bandings[need->index].roll;
}

/* The same goods from the same shelf: jobs planned together buy them in one line. */
static bool is_same_goods(const struct buying *buying, struct dw_need_ref first, struct dw_need_ref second)
{
    const struct dw_need *a = &buying->jobs[first.job]->needs[first.need], *b = &buying->jobs[second.job]->needs[second.need];
    return a->kind == b->kind && a->price == b->price && strcmp(a->id, b->id) == 0 && strcmp(a->name, b->name) == 0 &&
           strcmp(a->supplier, b->supplier) == 0 && pack_of(buying, first.job, a) == pack_of(buying, second.job, b);
}

/* What the needs [first, first + count) ask for together, less what was bought before. Packs are counted once; rolls of banding are filled job by
 * job, since their strips are. */
static struct dw_buy_line goods_line(const struct buying *buying, const struct dw_need_ref *refs, size_t count)
{
    const struct dw_need *need = &buying->jobs[refs[0].job]->needs[refs[0].need];
    int64_t pieces = 0, packs = 0, bought = 0;
    for (size_t i = 0; i < count; i++) {
        pieces += buying->jobs[refs[i].job]->needs[refs[i].need].count;
        packs += buying->jobs[refs[i].job]->needs[refs[i].need].packs;
        bought += buying->jobs[refs[i].job]->needs[refs[i].need].bought;
    }
    const int64_t pack = pack_of(buying, refs[0].job, need);
    if (need->kind == DW_NEED_HARDWARE)
        packs = dw_most(0, (pieces + pack - 1) / pack - bought);
    const char *what = need->kind == DW_NEED_BANDING ? dw_arena_format(buying->arena, "%s, roll of %s", need->name, dwi_buying_length(buying, roll_of(buying, refs[0].job, need)))
                       : pack == 1                     ? need->name
                                                       : dw_arena_format(buying->arena, "%s, %" PRId64 " in a pack, %" PRId64 " wanted", need->name, pack, pieces);
    return (struct dw_buy_line){.supplier = need->supplier, .id = need->id, .what = what, .count = packs, .used = packs,
                                .each = need->price, .total = need->price * packs, .material = DW_NO_INDEX, .source = DW_NO_INDEX,
                                .needs = refs, .need_count = count};
}

/* The record of what a line is for, bought now or before. */
static struct dw_goods goods_of(const struct buying *buying, const struct dw_buy_line *line)
{
    struct dw_goods goods = {.id = line->id, .what = buying->jobs[line->needs[0].job]->needs[line->needs[0].need].name};
    int64_t packs = 0;
    for (size_t i = 0; i < line->need_count; i++) {
        const struct dw_need *need = &buying->jobs[line->needs[i].job]->needs[line->needs[i].need];
        packs += need->count > 0 ? need->packs + need->bought : 0;
        goods.bought += need->bought;
    }
    goods.bought += line->count;
    goods.wanted = dw_least(packs, goods.bought);
    return goods;
}

/* Every need that is bought or was, those of the same goods side by side. */
static void add_hardware(struct list *list)
{
    const struct buying *buying = list->buying;
    struct dw_need_ref *refs = NULL;
    size_t count = 0, capacity = 0;
    for (size_t job = 0; job < buying->job_count; job++)
        for (size_t i = 0; i < buying->jobs[job]->need_count; i++) {
            warn_left_out(buying, &buying->jobs[job]->needs[i]);
            if (buying->jobs[job]->needs[i].packs <= 0 && buying->jobs[job]->needs[i].bought <= 0)
                continue;
            refs = dw_arena_grow(buying->arena, refs, count, &capacity, sizeof *refs);
            const struct dw_need_ref ref = {job, i};
            size_t at = count++;
            while (at > 0 && !is_same_goods(buying, refs[at - 1], ref))
                at--;
            at = at == 0 ? count - 1 : at;
            memmove(refs + at + 1, refs + at, (count - 1 - at) * sizeof *refs);
            refs[at] = ref;
        }
    struct dw_goods *goods = dw_arena_alloc(buying->arena, count, sizeof *goods);
    for (size_t first = 0, end; first < count; first = end) {
        for (end = first + 1; end < count && is_same_goods(buying, refs[first], refs[end]); end++)
            continue;
        const struct dw_buy_line line = goods_line(buying, refs + first, end - first);
        goods[buying->purchase->goods_count++] = goods_of(buying, &line);
        if (line.count > 0)
            add_line(list, line);
    }
    buying->purchase->goods = goods;
}

/* ---- before paying ---- */

static bool is_composite(enum dw_material_kind kind)
{
    return kind == DW_PLYWOOD || kind == DW_MDF || kind == DW_PARTICLEBOARD || kind == DW_MELAMINE;
}

/* What the yard is to cut; the panels bought by name and measured thickness; and the label on composite wood: 40 CFR part 770 (TSCA Title VI) covers hardwood
 * plywood, fiberboard and particleboard. */
static void add_cautions(struct buying *buying)
{
    enum { OTHERS = 2 };
    size_t count = dwi_buying_yard_count(buying);
    const char **cautions = dw_arena_alloc(buying->arena, count + OTHERS, sizeof *cautions);
    dwi_buying_yard(buying, cautions);
    bool composite = false;
    struct dw_text text = dw_text_in(buying->arena);
    for (size_t m = 0; m < buying->problem_count; m++) {
        const struct dw_material *material = &shop_of(buying)->materials[buying->problems[m].material];
        dw_text_addf(&text, "%s%s %s", m == 0 ? "" : ", ", material->name, dwi_buying_length(buying, material->thickness));
        composite = composite || is_composite(material->kind);
    }
    if (text.length > 0)
        cautions[count++] = dw_arena_format(buying->arena, "Measure the sheets before paying; the sizes stand on these thicknesses: %s.", text.bytes);
    if (composite)
        cautions[count++] = "Look for the label \"TSCA Title VI compliant\" on hardwood plywood, fiberboard and particleboard "
                            "(formaldehyde, 40 CFR 770).";
    buying->purchase->cautions = cautions;
    buying->purchase->caution_count = count;
}

void dwi_buying_lines(struct buying *buying)
{
    add_cautions(buying);
    struct list list = {.buying = buying};
    add_sheets(&list);
    add_hardware(&list);
    struct dw_buy_line *lines = dw_arena_alloc(buying->arena, list.line_count, sizeof *lines);
    struct dw_order *orders = dw_arena_alloc(buying->arena, list.supplier_count, sizeof *orders);
    size_t count = 0;
    for (size_t o = 0; o < list.supplier_count; o++) {
        orders[o] = (struct dw_order){.supplier = list.suppliers[o], .line = count,
                                      .delivery = dwi_buying_delivery(buying, list.suppliers[o])};
        for (size_t i = 0; i < list.line_count; i++) {
            if (strcmp(list.lines[i].supplier, list.suppliers[o]) != 0)
                continue;
            lines[count++] = list.lines[i];
            orders[o].goods += list.lines[i].total;
        }
        orders[o].line_count = count - orders[o].line;
        orders[o].total = orders[o].goods + orders[o].delivery;
    }
    buying->purchase->lines = lines;
    buying->purchase->line_count = count;
    buying->purchase->orders = orders;
    buying->purchase->order_count = list.supplier_count;
}
