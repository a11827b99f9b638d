/* elevation.c - the front of a case to scale: fronts, gaps, rails, boxes behind, slide center lines, and every one of them dimensioned.
 *
 * Beneath stand two level chains: the case's members and openings, and the fronts with the gaps beside them. To the right stand the
 * strips (bankheights.c).
 */
#include "elevation.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "dimension.h"
#include "bankheights.h"

enum {
    LEFT_ROOM = 5200,    /* overall height */
    TOP_ROOM = 3000,     /* overall width; the names of the strips */
    FIRST_CHAIN = 1700,  /* the level chain of fronts under the case, and the one of members under that */
    NEXT_CHAIN = 1300,
    STRIP_AIR = 1000     /* between the case and the strips */
};

const struct dw_sized_bank *dwi_bank_at(const struct dwi_banks *banks, size_t i)
{
    return &banks->of->banks[banks->first + i];
}

const char *dwi_last_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

struct dwi_banks dwi_all_banks(const struct dw_sizing *sizing, size_t case_index)
{
    return (struct dwi_banks){.sizing = sizing, .of = &sizing->cases[case_index], .count = sizing->cases[case_index].bank_count};
}

bool dwi_banks_go_on_left(const struct dwi_banks *banks)
{
    return banks->first != 0;
}

bool dwi_banks_go_on_right(const struct dwi_banks *banks)
{
    return banks->first + banks->count != banks->of->bank_count;
}

/* The middle between a bank's opening and its right neighbor's. */
static dw_length middle_behind(const struct dw_sized_case *of, size_t bank)
{
    const struct dw_rectangle a = of->banks[bank].opening;
    return (a.x + a.width + of->banks[bank + 1].opening.x) / 2;
}

dw_length dwi_banks_left(const struct dwi_banks *banks)
{
    return !dwi_banks_go_on_left(banks) ? 0 : middle_behind(banks->of, banks->first - 1);
}

dw_length dwi_banks_right(const struct dwi_banks *banks)
{
    const size_t last = banks->first + banks->count - 1;
    return !dwi_banks_go_on_right(banks) ? banks->of->width : middle_behind(banks->of, last);
}

/* ---- the case --------------------------------------------------------------------------------------------- */

void dwi_break_line(struct dwi_pad *pad, dw_dot x, dw_dot top, dw_dot low)
{
    const dw_dot middle = (top + low) / 2;
    const dw_dot points[] = {x, top - 500, x, middle - 500, x - 400, middle - 150, x + 400, middle + 150, x, middle + 500, x, low + 500};
    dwi_polyline(pad, points, 6, DWI_FINE, DW_TONE_INK);
}

/* The end of a case, or a break line where it goes on beyond the page. */
static void draw_end(struct dwi_pad *pad, dw_dot x, dw_dot top, dw_dot low, bool broken)
{
    if (broken)
        dwi_break_line(pad, x, top, low);
    else
        dwi_line(pad, x, top, x, low, DWI_BOLD, DW_TONE_INK);
}

static void draw_outline(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_view *view)
{
    const dw_length left = dwi_banks_left(banks);
    const dw_length right = dwi_banks_right(banks);
    const dw_dot top = dwi_y(view, banks->of->height);
    const dw_dot low = dwi_y(view, 0);
    dwi_line(pad, dwi_x(view, left), top, dwi_x(view, right), top, DWI_BOLD, DW_TONE_INK);
    dwi_line(pad, dwi_x(view, left) - 1200, low, dwi_x(view, right) + 1200, low, DWI_BOLD, DW_TONE_INK);
    draw_end(pad, dwi_x(view, left) - (dwi_banks_go_on_left(banks) ? 500 : 0), top, low, dwi_banks_go_on_left(banks));
    draw_end(pad, dwi_x(view, right) + (dwi_banks_go_on_right(banks) ? 500 : 0), top, low, dwi_banks_go_on_right(banks));
    const dw_length kick = banks->of->source->kick;
    if (kick > 0 && kick < banks->of->opening.y)
        dwi_line(pad, dwi_x(view, left), dwi_y(view, kick), dwi_x(view, right), dwi_y(view, kick), DWI_LINE, DW_TONE_INK);
}

static void draw_rail(struct dwi_pad *pad, const struct dw_sized_bank *bank, const struct dw_sized_rail *rail, const struct dwi_view *view)
{
    const struct dwi_area at = dwi_view_area(view, rail->at.x, rail->at.y, rail->at.width, rail->at.height);
    if (rail->kind == DW_RAIL_DUMMY)
        dwi_dashed_rectangle(pad, at, DWI_FINE, DW_TONE_INK, bank->address);
    else
        dwi_rectangle(pad, at, DWI_LINE, DW_TONE_INK, DW_TONE_PALE, bank->address);
}

const char *dwi_fill_word(enum dw_fill fill)
{
    switch (fill) {
    case DW_FILL_DRAWER:
        return "";
    case DW_FILL_DOOR:
        return "door";
    case DW_FILL_OPEN:
        return "open";
    case DW_FILL_PANEL:
        return "panel";
    }
    return "";
}

static const char *front_size(struct dw_arena *arena, const struct dwi_banks *banks, const struct dw_sized_drawer *drawer)
{
    const struct dw_job *job = banks->sizing->job;
    return dw_arena_format(arena, "%s \xC3\x97 %s", dwi_length(arena, job, drawer->front.width), dwi_length(arena, job, drawer->front.height));
}

/* Name and size in the front, on one line or two; the name alone where only that fits. */
static void label_front(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dw_sized_drawer *drawer, struct dwi_area at, size_t within)
{
    const char *size = front_size(pad->arena, banks, drawer);
    const char *word = dwi_fill_word(drawer->drawer->fill);
    const char *name = word[0] == '\0' ? dwi_last_name(drawer->path) : dw_arena_format(pad->arena, "%s %s", dwi_last_name(drawer->path), word);
    const char *line = dw_arena_format(pad->arena, "%s   %s", name, size);
    const dw_dot x = (at.x + at.x2) / 2;
    const dw_dot y = (at.y + at.y2) / 2 + DWI_BODY * DWI_CAP / 200;
    const dw_dot room = dwi_wide(at) > 1000 ? dwi_wide(at) - 600 : 400;
    const struct dwi_type type = {.anchor = DW_ANCHOR_MIDDLE, .within = within, .behind = DW_TONE_PAPER, .most = room};
    struct dwi_type bold = type;
    bold.bold = true;
    if (dwi_high(at) < DWI_BODY * 123 / 100 || dwi_wide(at) < 1000)
        return; /* the strip beside has its figures */
    if (dwi_text_width(dwi_typeset(pad->arena, line), DWI_BODY, false) <= room) {
        dwi_text(pad, x, y, type, drawer->address, line);
    } else if (dwi_text_width(dwi_typeset(pad->arena, size), DWI_BODY, false) <= room && dwi_high(at) >= DWI_BODY * 260 / 100) {
        dwi_text(pad, x, y - dwi_leading(DWI_BODY) / 2, bold, drawer->address, name);
        dwi_text(pad, x, y + dwi_leading(DWI_BODY) / 2, type, drawer->address, size);
    } else {
        dwi_text(pad, x, y, bold, drawer->address, name);
    }
}

/* The box behind a front, and at its sides the center line of its slides. */
static void draw_behind(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dw_sized_drawer *drawer, const struct dwi_view *view)
{
    if (drawer->box_height.step_count == 0)
        return;
    const struct dwi_area box = dwi_view_area(view, drawer->box.x, drawer->box.y, drawer->box.width, drawer->box.height);
    dwi_dashed_rectangle(pad, box, DWI_HAIR, DW_TONE_GRAY, drawer->address);
    if (!dwi_has_center(banks, drawer))
        return;
    const dw_dot y = dwi_y(view, dwi_center_y(banks, drawer));
    const dw_dot reach = dwi_wide(box) / 8 < 1400 ? dwi_wide(box) / 8 : 1400;
    dwi_line(pad, box.x - 300, y, box.x + reach, y, DWI_FINE, DW_TONE_COOL);
    dwi_line(pad, box.x2 - reach, y, box.x2 + 300, y, DWI_FINE, DW_TONE_COOL);
}

/* The edges of rails that this front covers. */
static void draw_hidden_rails(struct dwi_pad *pad, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer, const struct dwi_view *view)
{
    const dw_length low = drawer->front.y;
    const dw_length high = low + drawer->front.height;
    for (size_t r = 0; r < bank->rail_count; r++) {
        const struct dw_rectangle at = bank->rails[r].at;
        const dw_length edges[] = {at.y, at.y + at.height};
        for (size_t e = 0; e < 2; e++)
            if (edges[e] > low && edges[e] < high)
                dwi_dashed(pad, dwi_x(view, at.x), dwi_y(view, edges[e]), dwi_x(view, at.x + at.width), dwi_y(view, edges[e]), DWI_HAIR, DW_TONE_INK);
    }
}

static void draw_drawer(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer,
                        const struct dwi_view *view)
{
    const struct dwi_area at = dwi_view_area(view, drawer->front.x, drawer->front.y, drawer->front.width, drawer->front.height);
    size_t within = 0;
    if (drawer->drawer->fill == DW_FILL_OPEN)
        within = dwi_rectangle(pad, at, 0, DW_TONE_NONE, DW_TONE_NONE, drawer->address);
    else
        within = dwi_rectangle(pad, at, DWI_LINE, DW_TONE_INK, DW_TONE_PAPER, drawer->address);
    if (drawer->drawer->fill != DW_FILL_OPEN)
        draw_hidden_rails(pad, bank, drawer, view);
    draw_behind(pad, banks, drawer, view);
    label_front(pad, banks, drawer, at, within);
}

static void draw_bank(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dw_sized_bank *bank, const struct dwi_view *view)
{
    const struct dwi_area opening = dwi_view_area(view, bank->opening.x, bank->opening.y, bank->opening.width, bank->opening.height);
    dwi_rectangle(pad, opening, DWI_FINE, DW_TONE_GRAY, DW_TONE_NONE, bank->address);
    for (size_t r = 0; r < bank->rail_count; r++)
        draw_rail(pad, bank, &bank->rails[r], view);
    for (size_t d = 0; d < bank->drawer_count; d++)
        draw_drawer(pad, banks, bank, &bank->drawers[d], view);
}

/* ---- the chains beneath and above -------------------------------------------------------------------------- */

struct level_spans {
    struct dw_arena *arena;
    const struct dwi_banks *banks;
    const struct dwi_view *view;
    struct dwi_span *at;
    size_t count;
    dw_length reached;
};

/* Adds the span from where the last one ended to `to`. */
static void span_to(struct level_spans *spans, dw_length to, const char *address)
{
    if (to <= spans->reached)
        return;
    spans->at[spans->count++] = (struct dwi_span){.from = dwi_x(spans->view, spans->reached), .to = dwi_x(spans->view, to), .address = address,
                                                  .text = dwi_length(spans->arena, spans->banks->sizing->job, to - spans->reached)};
    spans->reached = to;
}

/* `first` is where the first thing begins: where the case goes on to the left, nothing before it is measured. */
static struct level_spans level_spans_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view, dw_length first)
{
    return (struct level_spans){.arena = arena, .banks = banks, .view = view, .reached = dwi_banks_go_on_left(banks) ? first : 0,
                                .at = dw_arena_alloc(arena, 2 * banks->count + 1, sizeof(struct dwi_span))};
}

/* The widest front of a bank. */
static struct dw_rectangle front_of(const struct dw_sized_bank *bank)
{
    struct dw_rectangle widest = {.x = bank->opening.x};
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (bank->drawers[d].front.width > widest.width)
            widest = bank->drawers[d].front;
    return widest;
}

/* Where a level chain's figures may stand: under the case and a little to both sides of it. */
static struct dwi_chain level_chain(const struct level_spans *spans, dw_dot at, dw_dot object, int side)
{
    return (struct dwi_chain){.spans = spans->at, .count = spans->count, .at = at, .object = object, .side = side,
                              .low = dwi_x(spans->view, dwi_banks_left(spans->banks)) - 3500,
                              .high = dwi_x(spans->view, dwi_banks_right(spans->banks)) + 1800};
}

/* The chains beneath: fronts with their gaps, members with openings. */
struct level_chains {
    struct dwi_chain fronts, members;
    dw_dot low; /* under the last figure */
};

static struct level_chains level_chains_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view)
{
    struct level_spans fronts = level_spans_of(arena, banks, view, front_of(dwi_bank_at(banks, 0)).x);
    struct level_spans members = level_spans_of(arena, banks, view, dwi_bank_at(banks, 0)->opening.x);
    for (size_t b = 0; b < banks->count; b++) {
        const struct dw_sized_bank *bank = dwi_bank_at(banks, b);
        const struct dw_rectangle front = front_of(bank);
        span_to(&fronts, front.x, bank->address);
        span_to(&fronts, front.x + front.width, bank->address);
        span_to(&members, bank->opening.x, bank->address);
        span_to(&members, bank->opening.x + bank->opening.width, bank->address);
    }
    if (!dwi_banks_go_on_right(banks)) {
        span_to(&fronts, banks->of->width, banks->of->address);
        span_to(&members, banks->of->width, banks->of->address);
    }
    const dw_dot low = dwi_y(view, 0);
    struct level_chains chains = {.fronts = level_chain(&fronts, low + FIRST_CHAIN, low, 1)};
    const dw_dot next = chains.fronts.at + dwi_chain_reach(arena, &chains.fronts, true) + NEXT_CHAIN;
    chains.members = level_chain(&members, next, low, 1);
    chains.low = next + dwi_chain_reach(arena, &chains.members, true) + 600;
    return chains;
}

static void draw_overall(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_view *view, struct dwi_area room)
{
    struct level_spans whole = level_spans_of(pad->arena, banks, view, 0);
    span_to(&whole, banks->of->width, banks->of->address);
    const dw_dot top = dwi_y(view, banks->of->height);
    const struct dwi_chain width = level_chain(&whole, top - 1500, top, -1);
    if (!dwi_banks_go_on_left(banks) && !dwi_banks_go_on_right(banks))
        dwi_chain_level(pad, &width);
    const dw_dot left = dwi_x(view, dwi_banks_left(banks));
    const struct dwi_span high = {.from = top, .to = dwi_y(view, 0), .address = banks->of->address,
                                  .text = dwi_length(pad->arena, banks->sizing->job, banks->of->height)};
    const struct dwi_chain height = {.spans = &high, .count = 1, .at = left - 2900, .object = left - 200, .side = -1, .low = room.y, .high = room.y2};
    dwi_chain_upright(pad, &height);
}

static struct dwi_view view_in(const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    return (struct dwi_view){.x = room.x + LEFT_ROOM - dwi_dots(dwi_banks_left(banks), scale),
                             .y = room.y + TOP_ROOM + dwi_dots(banks->of->height, scale), .scale = scale, .y_up = true};
}

struct dwi_extent dwi_elevation_extent(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    const struct dwi_view view = view_in(banks, room, scale);
    return (struct dwi_extent){.width = dwi_x(&view, dwi_banks_right(banks)) + STRIP_AIR - room.x + dwi_strips_of(arena, banks, &view, room).width,
                               .height = level_chains_of(arena, banks, &view).low - room.y};
}

bool dwi_elevation_is_whole(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    const struct dwi_view view = view_in(banks, room, scale);
    return dwi_strips_of(arena, banks, &view, room).all;
}

dw_dot dwi_draw_elevation(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    const struct dwi_view view = view_in(banks, room, scale);
    draw_outline(pad, banks, &view);
    for (size_t b = 0; b < banks->count; b++)
        draw_bank(pad, banks, dwi_bank_at(banks, b), &view);
    const struct level_chains chains = level_chains_of(pad->arena, banks, &view);
    dwi_chain_level(pad, &chains.members);
    dwi_chain_level(pad, &chains.fronts);
    draw_overall(pad, banks, &view, room);
    const struct dwi_strips strips = dwi_strips_of(pad->arena, banks, &view, room);
    dwi_draw_strips(pad, banks, &strips, dwi_x(&view, dwi_banks_right(banks)) + STRIP_AIR, room);
    return chains.low;
}

int64_t dwi_elevation_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room)
{
    int64_t scale = dwi_scale_for(dwi_banks_right(banks) - dwi_banks_left(banks), banks->of->height, dwi_wide(room), dwi_high(room));
    for (; scale <= DWI_SCALE_MOST; scale++) {
        const struct dwi_extent extent = dwi_elevation_extent(arena, banks, room, scale);
        if (extent.width <= dwi_wide(room) && extent.height <= dwi_high(room))
            break;
    }
    return scale;
}

void dwi_draw_thumbnail(struct dwi_pad *pad, const struct dw_sizing *sizing, size_t case_index, struct dwi_area room)
{
    const struct dwi_banks banks = dwi_all_banks(sizing, case_index);
    struct dwi_view view = {.scale = dwi_scale_for(banks.of->width, banks.of->height, dwi_wide(room), dwi_high(room)), .y_up = true};
    view.x = room.x + (dwi_wide(room) - dwi_dots(banks.of->width, view.scale)) / 2;
    view.y = room.y2;
    dwi_rectangle(pad, dwi_view_area(&view, 0, 0, banks.of->width, banks.of->height), DWI_BOLD, DW_TONE_INK, DW_TONE_PAPER, banks.of->address);
    for (size_t b = 0; b < banks.count; b++) {
        const struct dw_sized_bank *bank = dwi_bank_at(&banks, b);
        dwi_rectangle(pad, dwi_view_area(&view, bank->opening.x, bank->opening.y, bank->opening.width, bank->opening.height), DWI_HAIR, DW_TONE_GRAY,
                      DW_TONE_NONE, bank->address);
        for (size_t d = 0; d < bank->drawer_count; d++) {
            const struct dw_sized_drawer *drawer = &bank->drawers[d];
            const struct dwi_area at = dwi_view_area(&view, drawer->front.x, drawer->front.y, drawer->front.width, drawer->front.height);
            if (drawer->drawer->fill == DW_FILL_OPEN)
                continue;
            const size_t within = dwi_rectangle(pad, at, DWI_FINE, DW_TONE_INK, DW_TONE_PAPER, drawer->address);
            if (dwi_high(at) >= 1050 && dwi_wide(at) >= 2500)
                dwi_text(pad, (at.x + at.x2) / 2, (at.y + at.y2) / 2 + DWI_NOTE * DWI_CAP / 200,
                         (struct dwi_type){.size = DWI_NOTE, .anchor = DW_ANCHOR_MIDDLE, .most = dwi_wide(at) - 400, .within = within}, drawer->address,
                         dwi_last_name(drawer->path));
        }
    }
    dwi_line(pad, room.x, view.y, room.x2, view.y, DWI_LINE, DW_TONE_INK);
}
