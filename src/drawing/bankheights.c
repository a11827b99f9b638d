/* bankheights.c - what stands beside an elevation: one strip for every bank that differs from those before it. On its left the upright chain of what is
 * seen, from the top of the case to the floor; where fronts hide rails a second one of rails and openings; on its right the slide heights above the
 * case floor, as on a story stick.
 */
#include "bankheights.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum {
    TOP_ROOM = 3000,     /* over the chains: what stands over a strip */
    STRIPS_MOST = 45,    /* percent of the breadth */
    STRIP_AIR = 1000     /* before a strip's chain, between its figures and the slide heights, and behind them */
};

static const struct dw_slide *slide_of(const struct dwi_banks *banks, const struct dw_sized_drawer *drawer)
{
    return drawer->slide == DW_NO_INDEX ? NULL : &banks->sizing->job->shop.slides[drawer->slide];
}

bool dwi_has_center(const struct dwi_banks *banks, const struct dw_sized_drawer *drawer)
{
    return slide_of(banks, drawer) != NULL && drawer->slide_center.step_count != 0 && drawer->box_height.step_count != 0;
}

dw_length dwi_center_y(const struct dwi_banks *banks, const struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = slide_of(banks, drawer);
    return drawer->box.y + (slide->center == DW_LENGTH_UNSET ? drawer->box.height / 2 : slide->center);
}

struct edges {
    dw_length *at;
    size_t count;
};

static int downward(const void *a, const void *b)
{
    const dw_length x = *(const dw_length *)a;
    const dw_length y = *(const dw_length *)b;
    return x < y ? 1 : x > y ? -1 : 0;
}

/* What of a bank a chain measures: what is seen from the front, or the members behind. */
enum layer { SEEN, BEHIND };

static bool inside_a_front(const struct dw_sized_bank *bank, dw_length y)
{
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (y > bank->drawers[d].front.y && y < bank->drawers[d].front.y + bank->drawers[d].front.height)
            return true;
    return false;
}

static void add_edge(struct edges *edges, const struct dw_sized_bank *bank, enum layer layer, dw_length y)
{
    if (layer == BEHIND || !inside_a_front(bank, y))
        edges->at[edges->count++] = y;
}

/* All heights at which something of the layer begins or ends, from the top down, each once. */
static struct edges edges_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_bank *bank, enum layer layer)
{
    struct edges edges = {.at = dw_arena_alloc(arena, 2 * (bank->drawer_count + bank->rail_count) + 4, sizeof *edges.at)};
    add_edge(&edges, bank, layer, 0);
    add_edge(&edges, bank, layer, banks->of->height);
    add_edge(&edges, bank, layer, bank->opening.y);
    add_edge(&edges, bank, layer, bank->opening.y + bank->opening.height);
    for (size_t d = 0; d < bank->drawer_count && layer == SEEN; d++) {
        add_edge(&edges, bank, layer, bank->drawers[d].front.y);
        add_edge(&edges, bank, layer, bank->drawers[d].front.y + bank->drawers[d].front.height);
    }
    for (size_t r = 0; r < bank->rail_count; r++) {
        add_edge(&edges, bank, layer, bank->rails[r].at.y);
        add_edge(&edges, bank, layer, bank->rails[r].at.y + bank->rails[r].at.height);
    }
    qsort(edges.at, edges.count, sizeof *edges.at, downward);
    size_t kept = 0;
    for (size_t i = 0; i < edges.count; i++)
        if (i == 0 || edges.at[i] != edges.at[kept - 1])
            edges.at[kept++] = edges.at[i];
    edges.count = kept;
    return edges;
}

static const char *address_of_span(const struct dw_sized_bank *bank, dw_length top, dw_length low)
{
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (bank->drawers[d].front.y == low && bank->drawers[d].front.y + bank->drawers[d].front.height == top)
            return bank->drawers[d].address;
    return bank->address;
}

/* A rail of which fronts cover an edge is not measured by what is seen. */
static bool has_hidden_rails(const struct dw_sized_bank *bank)
{
    for (size_t r = 0; r < bank->rail_count; r++)
        if (inside_a_front(bank, bank->rails[r].at.y) || inside_a_front(bank, bank->rails[r].at.y + bank->rails[r].at.height))
            return true;
    return false;
}

static struct dwi_chain upright_chain(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_bank *bank, enum layer layer,
                                      const struct dwi_view *view, struct dwi_area room)
{
    const struct edges edges = edges_of(arena, banks, bank, layer);
    struct dwi_span *spans = dw_arena_alloc(arena, edges.count, sizeof *spans);
    for (size_t i = 0; i + 1 < edges.count; i++)
        spans[i] = (struct dwi_span){.from = dwi_y(view, edges.at[i]), .to = dwi_y(view, edges.at[i + 1]),
                                     .text = dwi_length(arena, banks->sizing->job, edges.at[i] - edges.at[i + 1]),
                                     .address = address_of_span(bank, edges.at[i], edges.at[i + 1])};
    return (struct dwi_chain){.spans = spans, .count = edges.count - 1, .side = 1, .low = room.y + TOP_ROOM, .high = room.y2};
}

static bool same_edges(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_bank *a, const struct dw_sized_bank *b, enum layer layer)
{
    const struct edges left = edges_of(arena, banks, a, layer);
    const struct edges right = edges_of(arena, banks, b, layer);
    return left.count == right.count && memcmp(left.at, right.at, left.count * sizeof *left.at) == 0;
}

/* Do both stand over one another in the same way? Then one strip serves both. */
static bool banks_alike(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_bank *a, const struct dw_sized_bank *b)
{
    if (!same_edges(arena, banks, a, b, SEEN) || !same_edges(arena, banks, a, b, BEHIND) || a->drawer_count != b->drawer_count)
        return false;
    for (size_t d = 0; d < a->drawer_count; d++) {
        if (dwi_has_center(banks, &a->drawers[d]) != dwi_has_center(banks, &b->drawers[d]))
            return false;
        if (dwi_has_center(banks, &a->drawers[d]) && dwi_center_y(banks, &a->drawers[d]) != dwi_center_y(banks, &b->drawers[d]))
            return false;
    }
    return true;
}

/* The first bank that stands like this one. */
static size_t first_alike(struct dw_arena *arena, const struct dwi_banks *banks, size_t bank)
{
    size_t i = 0;
    while (!banks_alike(arena, banks, dwi_bank_at(banks, i), dwi_bank_at(banks, bank)))
        i++;
    return i;
}

/* ---- the strips beside it ---------------------------------------------------------------------------------- */

static void add_heights(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_bank *of, const struct dwi_view *view,
                        struct dwi_strip_beside *strip)
{
    dw_dot widest = 0;
    strip->heights = dw_arena_alloc(arena, of->drawer_count, sizeof *strip->heights);
    for (size_t d = 0; d < of->drawer_count; d++) {
        const struct dw_sized_drawer *drawer = &of->drawers[d];
        if (!dwi_has_center(banks, drawer))
            continue;
        const char *text = dwi_typeset(arena, dwi_length(arena, banks->sizing->job, drawer->slide_center.value));
        const dw_dot width = dwi_text_width(text, DWI_BODY, false);
        widest = width > widest ? width : widest;
        strip->floor = dwi_y(view, dwi_center_y(banks, drawer) - drawer->slide_center.value);
        strip->heights[strip->height_count++] = (struct dwi_height){.at = dwi_y(view, dwi_center_y(banks, drawer)), .text = text, .address = drawer->address};
    }
    if (strip->height_count > 0)
        strip->width = strip->heights_at + 1000 + widest + STRIP_AIR;
}

/* What stands over the chains; the first is that of a bank alone in its case. */
static const char FRONTS[] = "fronts";
static const char RAILS[] = "rails";

/* From chain to chain: what the figures take, but no less than what stands over them. */
static dw_dot chain_step(struct dw_arena *arena, const struct dwi_chain *chain, const char *title)
{
    const dw_dot reach = dwi_chain_reach(arena, chain, false);
    const dw_dot half = dwi_chain_half(arena, chain, false);
    const dw_dot figures = (reach > half ? reach : half) + STRIP_AIR;
    const dw_dot words = dwi_text_width(title, DWI_NOTE, false) + STRIP_AIR / 2;
    return figures > words ? figures : words;
}

static struct dwi_strip_beside strip_of(struct dw_arena *arena, const struct dwi_banks *banks, size_t bank, const struct dwi_view *view, struct dwi_area room)
{
    const struct dw_sized_bank *of = dwi_bank_at(banks, bank);
    struct dwi_strip_beside strip = {.bank = bank, .chain = upright_chain(arena, banks, of, SEEN, view, room)};
    strip.chain_at = STRIP_AIR + dwi_chain_half(arena, &strip.chain, false);
    strip.heights_at = strip.chain_at + chain_step(arena, &strip.chain, "");
    const dw_dot titled = STRIP_AIR + dwi_text_width(FRONTS, DWI_NOTE, false) + 1000;
    if (banks->of->bank_count == 1 && strip.heights_at < titled)
        strip.heights_at = titled;
    if (has_hidden_rails(of)) {
        strip.rails = upright_chain(arena, banks, of, BEHIND, view, room);
        strip.rails_at = strip.heights_at + dwi_chain_half(arena, &strip.rails, false);
        strip.heights_at = strip.rails_at + chain_step(arena, &strip.rails, RAILS);
    }
    strip.width = strip.heights_at;
    add_heights(arena, banks, of, view, &strip);
    return strip;
}

/* The names of the banks that a strip serves, or how many where they find no room; with one bank alone there is no need to name it. */
static const char *strip_title(struct dw_arena *arena, const struct dwi_banks *banks, size_t bank, dw_dot most)
{
    if (banks->of->bank_count == 1)
        return FRONTS;
    struct dw_text names = dw_text_in(arena);
    size_t count = 0;
    for (size_t b = bank; b < banks->count; b++)
        if (first_alike(arena, banks, b) == bank)
            dw_text_addf(&names, "%s%s", count++ == 0 ? "" : ", ", dwi_last_name(dwi_bank_at(banks, b)->path));
    if (count == 1 || dwi_text_width(names.bytes, DWI_NOTE, true) <= most)
        return names.bytes;
    return count == banks->count ? "all" : dw_arena_format(arena, "%zu banks", count);
}

static void draw_strip(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_strip_beside *strip, dw_dot x, struct dwi_area room)
{
    const char *address = dwi_bank_at(banks, strip->bank)->address;
    strip->chain.at = x + strip->chain_at;
    strip->chain.object = strip->chain.at;
    dwi_chain_upright(pad, &strip->chain);
    const dw_dot most = (strip->rails_at > 0 ? strip->rails_at : strip->heights_at) - STRIP_AIR - 700;
    const char *title = strip_title(pad->arena, banks, strip->bank, most);
    dwi_text(pad, x + STRIP_AIR, room.y + 900, (struct dwi_type){.size = DWI_NOTE, .bold = banks->of->bank_count > 1, .most = most, .as_it_is = true}, address,
             title);
    if (strip->rails_at > 0) {
        strip->rails.at = strip->rails.object = x + strip->rails_at;
        dwi_chain_upright(pad, &strip->rails);
        dwi_text(pad, x + strip->rails_at - 300, room.y + 900, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY}, address, RAILS);
    }
    if (strip->height_count == 0)
        return;
    dwi_heights(pad, x + strip->heights_at, strip->floor, strip->heights, strip->height_count, room.y + TOP_ROOM, room.y2);
    dwi_text(pad, x + strip->heights_at - 300, room.y + 900, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY}, address, "slides at");
}

struct dwi_strips dwi_strips_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view, struct dwi_area room)
{
    struct dwi_strips strips = {.at = dw_arena_alloc(arena, banks->count, sizeof *strips.at), .all = true};
    for (size_t b = 0; b < banks->count; b++) {
        if (first_alike(arena, banks, b) != b)
            continue;
        const struct dwi_strip_beside strip = strip_of(arena, banks, b, view, room);
        strips.all = strips.all && strips.width + strip.width <= dwi_wide(room) * STRIPS_MOST / 100;
        if (!strips.all)
            break;
        strips.at[strips.count++] = strip;
        strips.width += strip.width;
    }
    return strips;
}


void dwi_draw_strips(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_strips *strips, dw_dot x, struct dwi_area room)
{
    for (size_t i = 0; i < strips->count; i++) {
        draw_strip(pad, banks, &strips->at[i], x, room);
        x += strips->at[i].width;
    }
}
