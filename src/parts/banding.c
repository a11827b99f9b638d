/* banding.c - edge banding: what it takes off a part, and how many rolls it takes.
 *
 * A strip is as long as the edge as cut, plus the banding's waste for trimming its ends (about 1 in a strip: "On the Edge", Woodcraft).
 * Strips are laid out on rolls longest first, each on the first roll with room for it, so what is bought can really be cut: no strip is
 * pieced together from two rolls.
 */
#include "making.h"

#include <inttypes.h>
#include <stdlib.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

dw_length dwi_banding_thickness(const struct dwi_making *making, size_t banding)
{
    const struct dw_banding *found = dwi_banding(making, banding);
    return found == NULL ? 0 : found->thickness;
}

void dwi_less_banding(const struct dwi_making *making, struct dwi_reckoning *sum, size_t banding, const char *edge)
{
    dwi_reckon_less(sum, dw_arena_format(making->arena, "less the banding on its %s", edge), dwi_banding_thickness(making, banding));
}

void dwi_check_banding(struct dwi_making *making, const size_t banding[DW_EDGES], const struct dw_material *material, const char *address)
{
    for (int edge = 0; edge < DW_EDGES; edge++) {
        const struct dw_banding *found = dwi_banding(making, banding[edge]);
        if (found != NULL && found->width < material->thickness)
            dw_warn(making->faults, "banding-narrow", dw_address_key(making->arena, address, "banding"),
                    "banding %s wide does not cover stock that measures %s\na wider banding (7/8 in for 3/4 in stock)",
                    dwi_say_unit(making, found->width), dwi_say_unit(making, material->thickness));
    }
}

/* ---- rolls ----------------------------------------------------------------------------------------------- */

static bool is_end(int edge)
{
    return edge == DW_LEFT || edge == DW_RIGHT;
}

/* Like strips. */
struct strips {
    dw_length length;
    int64_t count;
};

static int longer_first(const void *a, const void *b)
{
    const struct strips *one = a;
    const struct strips *other = b;
    if (one->length != other->length)
        return one->length > other->length ? -1 : 1;
    return one->count > other->count ? -1 : one->count < other->count;
}

static size_t list_strips(const struct dw_parts *parts, size_t banding, dw_length waste, struct strips *strips)
{
    size_t count = 0;
    for (size_t p = 0; p < parts->count; p++)
        for (int edge = 0; edge < DW_EDGES; edge++)
            if (parts->at[p].banding[edge] == banding)
                strips[count++] = (struct strips){.length = (is_end(edge) ? parts->at[p].width.value : parts->at[p].length.value) + waste,
                                                  .count = (int64_t)parts->at[p].count};
    return count;
}

/* Rolls needed for the strips, sorted longest first; each at most a roll long. A roll that is too full for one strip is so for all of its
 * length, so the search for the next of them goes on from there. */
static int64_t fill_rolls(struct dw_arena *arena, const struct strips *strips, size_t count, dw_length roll)
{
    dw_length *left = NULL;
    size_t rolls = 0, capacity = 0;
    for (size_t i = 0; i < count; i++) {
        size_t at = 0;
        for (int64_t n = 0; n < strips[i].count; n++) {
            while (at < rolls && left[at] < strips[i].length)
                at++;
            if (at == rolls) {
                left = dw_arena_grow(arena, left, rolls, &capacity, sizeof *left);
                left[rolls++] = roll;
            }
            left[at] -= strips[i].length;
        }
    }
    return (int64_t)rolls;
}

bool dwi_need_banding(struct dwi_making *making, const struct dw_parts *parts, size_t banding, struct dw_need *need)
{
    const struct dw_banding *asked = &making->job->shop.bandings[banding];
    struct strips *strips = dw_arena_alloc(making->arena, parts->count * DW_EDGES, sizeof *strips);
    const size_t count = list_strips(parts, banding, asked->waste, strips);
    if (count == 0)
        return false;
    qsort(strips, count, sizeof *strips, longer_first);
    *need = (struct dw_need){.kind = DW_NEED_BANDING,
                             .index = banding,
                             .id = asked->id,
                             .name = asked->name,
                             .supplier = asked->supplier == NULL ? "" : asked->supplier,
                             .price = asked->price};
    for (size_t i = 0; i < count; i++) {
        need->count += strips[i].count;
        need->length += strips[i].count * strips[i].length;
    }
    const char *rolls = asked->roll > 0 ? dw_arena_format(making->arena, ", rolls of %s", dwi_say_unit(making, asked->roll)) : "";
    need->rule = dw_arena_format(making->arena, "%" PRId64 " strips, each %s over: %s in all%s", need->count, dwi_say_unit(making, asked->waste),
                                 dwi_say_unit(making, need->length), rolls);
    if (asked->roll <= 0) {
        need->packs = 1; /* sold by the length */
        return true;
    }
    if (strips[0].length > asked->roll) {
        dw_error(making->faults, DW_IMPOSSIBLE, "banding-short",
                 dw_address_key(making->arena, dw_address_index(making->arena, "shop.bandings", banding), "roll"),
                 "a strip of %s does not come off a roll of %s\na longer roll", dwi_say_unit(making, strips[0].length),
                 dwi_say_unit(making, asked->roll));
        return false;
    }
    need->packs = fill_rolls(making->arena, strips, count, asked->roll);
    return true;
}
