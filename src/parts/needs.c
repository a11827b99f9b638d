/* needs.c - what is bought beside sheets: slides by length, hardware by the shop's rules, screws for pulls, banding by the roll.
 *
 * Every line says the rule that made it. A rule of the shop is "so many for each drawer, front, case or job", in packs; glue and box screws
 * are such rules too ("1 bottle for each drawer, 40 in a pack").
 */
#include "making.h"

#include <inttypes.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

struct needs {
    struct dwi_making *making;
    struct dw_need *at;
    size_t count, capacity;
};

static void add(struct needs *needs, struct dw_need need)
{
    needs->at = dw_arena_grow(needs->making->arena, needs->at, needs->count, &needs->capacity, sizeof *needs->at);
    needs->at[needs->count++] = need;
}

/* Calls visit for every drawer, door, panel and open space, with the number of copies of its case. */
static void each_drawer(const struct dwi_making *making, void (*visit)(const struct dw_sized_drawer *, int64_t copies, void *), void *context)
{
    for (size_t c = 0; c < making->sizing->case_count; c++)
        for (size_t b = 0; b < making->sizing->cases[c].bank_count; b++) {
            const struct dw_sized_bank *bank = &making->sizing->cases[c].banks[b];
            for (size_t d = 0; d < bank->drawer_count; d++)
                visit(&bank->drawers[d], making->job->cases[c].count, context);
        }
}

/* ---- slides ---------------------------------------------------------------------------------------------- */

struct slide_count {
    size_t slide;
    dw_length length;
    int64_t pairs;
};

static void count_slide(const struct dw_sized_drawer *drawer, int64_t copies, void *context)
{
    struct slide_count *count = context;
    if (drawer->drawer->fill == DW_FILL_DRAWER && drawer->slide == count->slide && drawer->slide_length.value == count->length)
        count->pairs += copies;
}

static void need_slides(struct needs *needs)
{
    const struct dw_shop *shop = &needs->making->job->shop;
    for (size_t s = 0; s < shop->slide_count; s++)
        for (size_t i = 0; i < shop->slides[s].length_count; i++) {
            const struct dw_slide_length *offered = &shop->slides[s].lengths[i];
            struct slide_count count = {.slide = s, .length = offered->length};
            each_drawer(needs->making, count_slide, &count);
            if (count.pairs == 0)
                continue;
            const char *length = dwi_say_unit(needs->making, offered->length);
            struct dw_arena *arena = needs->making->arena;
            add(needs, (struct dw_need){.kind = DW_NEED_SLIDES,
                                        .index = s,
                                        .id = dw_arena_format(arena, "%s %s", shop->slides[s].id, length),
                                        .name = dw_arena_format(arena, "%s, %s, pair", shop->slides[s].name, length),
                                        .supplier = "",
                                        .count = count.pairs,
                                        .packs = count.pairs,
                                        .price = offered->price,
                                        .length = offered->length,
                                        .rule = dw_arena_format(arena, "1 pair for each drawer on this length: %" PRId64, count.pairs)});
        }
}

/* ---- hardware by rule ------------------------------------------------------------------------------------ */

struct rule_count {
    const struct dw_hardware *hardware;
    int64_t takers;
};

static void count_taker(const struct dw_sized_drawer *drawer, int64_t copies, void *context)
{
    struct rule_count *count = context;
    if (dwi_hardware_fits(count->hardware, drawer))
        count->takers += copies;
}

static int64_t count_takers(const struct dwi_making *making, const struct dw_hardware *hardware)
{
    struct rule_count count = {.hardware = hardware};
    switch (hardware->per) {
    case DW_PER_DRAWER:
    case DW_PER_FRONT:
        each_drawer(making, count_taker, &count);
        return count.takers;
    case DW_PER_CASE:
        for (size_t c = 0; c < making->job->case_count; c++)
            count.takers += making->job->cases[c].count;
        return count.takers;
    case DW_PER_JOB:
        return 1;
    }
    return 0;
}

static const char *rule_words(const struct dwi_making *making, const struct dw_hardware *hardware, int64_t count)
{
    static const char *const PER[] = {[DW_PER_DRAWER] = "each drawer", [DW_PER_FRONT] = "each front", [DW_PER_CASE] = "each case",
                                      [DW_PER_JOB] = "the job"};
    const char *from = hardware->from_width > 0
                           ? dw_arena_format(making->arena, " from %s wide", dwi_say_unit(making, hardware->from_width))
                           : "";
    const char *packs = hardware->pack > 1 ? dw_arena_format(making->arena, ", %" PRId64 " in a pack", hardware->pack) : "";
    return dw_arena_format(making->arena, "%" PRId64 " for %s%s: %" PRId64 "%s", hardware->count, PER[hardware->per], from, count, packs);
}

static void need_hardware(struct needs *needs)
{
    const struct dw_shop *shop = &needs->making->job->shop;
    for (size_t i = 0; i < shop->hardware_count; i++) {
        const struct dw_hardware *hardware = &shop->hardware[i];
        const int64_t count = hardware->count * count_takers(needs->making, hardware);
        const int64_t pack = dw_most(1, hardware->pack);
        if (count > 0)
            add(needs, (struct dw_need){.kind = DW_NEED_HARDWARE,
                                        .index = i,
                                        .id = hardware->id,
                                        .name = hardware->name,
                                        .supplier = hardware->supplier == NULL ? "" : hardware->supplier,
                                        .count = count,
                                        .packs = (count + pack - 1) / pack,
                                        .price = hardware->price,
                                        .rule = rule_words(needs->making, hardware, count)});
    }
}

/* ---- screws for pulls ------------------------------------------------------------------------------------ */

/* Screws of one length and price wanted so far. */
struct screws {
    dw_length length;
    dw_money price;
    int64_t count;
};

struct screw_list {
    const struct dwi_making *making;
    struct screws *at;
    size_t count, capacity;
};

static dw_length thickness_of(const struct dw_shop *shop, size_t material)
{
    return material < shop->material_count ? shop->materials[material].thickness : 0;
}

static void count_screws_of(struct screw_list *list, dw_length length, dw_money price, int64_t count)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->at[i].length == length && list->at[i].price == price) {
            list->at[i].count += count;
            return;
        }
    list->at = dw_arena_grow(list->making->arena, list->at, list->count, &list->capacity, sizeof *list->at);
    list->at[list->count++] = (struct screws){.length = length, .price = price, .count = count};
}

static void count_screws(const struct dw_sized_drawer *drawer, int64_t copies, void *context)
{
    struct screw_list *list = context;
    const struct dw_shop *shop = &list->making->job->shop;
    const bool applied = drawer->drawer->fill == DW_FILL_DRAWER && drawer->drawer->front.kind == DW_FRONT_APPLIED;
    const dw_length front = thickness_of(shop, drawer->drawer->front.material);
    const dw_length behind = applied ? thickness_of(shop, drawer->drawer->box.front_material) : 0;
    for (size_t i = 0; i < shop->hardware_count; i++) {
        const struct dw_hardware *hardware = &shop->hardware[i];
        if (hardware->pull && dwi_hardware_fits(hardware, drawer))
            count_screws_of(list, dw_pull_screw(front, behind, list->making->job->unit), hardware->screw_price,
                            copies * hardware->count * (hardware->centers > 0 ? 2 : 1));
    }
}

static void need_screws(struct needs *needs)
{
    struct screw_list list = {.making = needs->making};
    each_drawer(needs->making, count_screws, &list);
    for (size_t i = 0; i < list.count; i++) {
        const char *length = dwi_say_unit(needs->making, list.at[i].length);
        struct dw_arena *arena = needs->making->arena;
        add(needs, (struct dw_need){.kind = DW_NEED_HARDWARE,
                                    .index = DW_NO_INDEX,
                                    .id = dw_arena_format(arena, "pull screw %s", length),
                                    .name = dw_arena_format(arena, "machine screw for a pull, %s", length),
                                    .supplier = "",
                                    .count = list.at[i].count,
                                    .packs = list.at[i].count,
                                    .price = list.at[i].price,
                                    .rule = dw_arena_format(arena, "one a hole, through front and box with thread to spare: %" PRId64,
                                                            list.at[i].count)});
    }
}

void dwi_needs(struct dwi_making *making, struct dw_parts *parts)
{
    struct needs needs = {.making = making};
    need_slides(&needs);
    need_hardware(&needs);
    need_screws(&needs);
    struct dw_need banding;
    for (size_t i = 0; i < making->job->shop.banding_count; i++)
        if (dwi_need_banding(making, parts, i, &banding))
            add(&needs, banding);
    parts->needs = needs.at;
    parts->need_count = needs.count;
}
