/* section.c - a case cut through on the level, seen from above, the front toward the reader: for each bank a drawer with its box, slides and
 * clearances. Drawers that look the same from above are drawn once, under all their names; what else a bank holds is shown on further levels.
 *
 * Depths are measured from the face of the case or its frame, inward; a front that stands proud of the face lies at negative depth.
 */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "dimension.h"
#include "elevation.h"

enum {
    LEFT_ROOM = 5200, TOP_ROOM = 1800, BOTTOM_AIR = 1000, FIRST_CHAIN = 3000, NEXT_CHAIN = 2600,
    DEPTH_ROOM = 15500,  /* that one set of depths takes at the right */
    DEPTHS_MOST = 3      /* so many sets find place there */
};

/* What is drawn of one bank. */
struct cut_drawer {
    const struct dw_sized_bank *bank;
    const struct dw_sized_drawer *drawer; /* NULL: the bank has no box */
    dw_length front_from, front_to;       /* depths */
    dw_length box_from, box_to;
    dw_length slide_from, slide_to;       /* equal: none */
};

static bool has_box(const struct dw_sized_drawer *drawer)
{
    return drawer->box_width.step_count != 0;
}

static const struct dw_material *material_of(const struct dwi_banks *banks, size_t index)
{
    return &banks->sizing->job->shop.materials[index];
}

static void place_front(const struct dwi_banks *banks, struct cut_drawer *cut)
{
    const struct dw_drawer *drawer = cut->drawer->drawer;
    const dw_length thickness = drawer->front.material == DW_NO_INDEX ? 0 : material_of(banks, drawer->front.material)->thickness;
    cut->front_to = thickness;
    if (drawer->fit.kind == DW_LIPPED)
        cut->front_to = thickness - drawer->fit.lip;
    else if (drawer->fit.kind != DW_INSET)
        cut->front_to = 0;
    cut->front_from = cut->front_to - thickness;
}

static void place_box(struct cut_drawer *cut)
{
    cut->box_from = cut->drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT ? cut->front_from : cut->front_to;
    cut->box_to = cut->box_from + cut->drawer->box_depth.value;
    if (cut->drawer->slide_length.step_count != 0 && cut->drawer->slide_length.value > 0) {
        cut->slide_from = cut->drawer->set_back.step_count != 0 ? cut->drawer->set_back.value : cut->box_from;
        cut->slide_to = cut->slide_from + cut->drawer->slide_length.value;
    }
}

static struct cut_drawer cut_through(const struct dwi_banks *banks, const struct dw_sized_bank *bank, size_t drawer)
{
    struct cut_drawer cut = {.bank = bank, .drawer = &bank->drawers[drawer]};
    place_front(banks, &cut);
    place_box(&cut);
    return cut;
}

/* Do both look the same from above, their names apart? */
static bool alike_in_plan(const struct cut_drawer *a, const struct cut_drawer *b)
{
    const struct dw_sized_drawer *x = a->drawer;
    const struct dw_sized_drawer *y = b->drawer;
    return a->front_from == b->front_from && a->front_to == b->front_to && a->box_from == b->box_from && a->box_to == b->box_to &&
           a->slide_from == b->slide_from && a->slide_to == b->slide_to && x->front.x == y->front.x && x->front.width == y->front.width &&
           x->box.x == y->box.x && x->box.width == y->box.width && x->slide == y->slide && x->side_clearance == y->side_clearance &&
           x->packing[0] == y->packing[0] && x->packing[1] == y->packing[1] && x->drawer->box.side_material == y->drawer->box.side_material &&
           x->drawer->box.front_material == y->drawer->box.front_material && x->drawer->box.back_material == y->drawer->box.back_material;
}

/* Is there no drawer above this one in its bank that looks the same? */
static bool is_new_in_plan(const struct dwi_banks *banks, const struct dw_sized_bank *bank, size_t drawer)
{
    const struct cut_drawer cut = cut_through(banks, bank, drawer);
    for (size_t d = 0; d < drawer; d++) {
        const struct cut_drawer other = has_box(&bank->drawers[d]) ? cut_through(banks, bank, d) : cut;
        if (has_box(&bank->drawers[d]) && alike_in_plan(&cut, &other))
            return false;
    }
    return true;
}

/* What is drawn of a bank on the level of `banks`; no drawer where the bank has no more kinds. */
static struct cut_drawer cut_of(const struct dwi_banks *banks, const struct dw_sized_bank *bank)
{
    size_t kinds = 0;
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (has_box(&bank->drawers[d]) && is_new_in_plan(banks, bank, d) && kinds++ == banks->level)
            return cut_through(banks, bank, d);
    return (struct cut_drawer){.bank = bank};
}

size_t dwi_section_levels(const struct dwi_banks *banks)
{
    size_t levels = 1;
    for (size_t b = 0; b < banks->count; b++) {
        const struct dw_sized_bank *bank = dwi_bank_at(banks, b);
        size_t kinds = 0;
        for (size_t d = 0; d < bank->drawer_count; d++)
            kinds += has_box(&bank->drawers[d]) && is_new_in_plan(banks, bank, d) ? 1 : 0;
        levels = kinds > levels ? kinds : levels;
    }
    return levels;
}

static dw_length deepest(const struct dwi_banks *banks)
{
    dw_length depth = 0;
    for (size_t b = 0; b < banks->count; b++) {
        const struct cut_drawer cut = cut_of(banks, dwi_bank_at(banks, b));
        depth = dw_most(depth, dw_most(cut.box_to, cut.slide_to));
    }
    return depth;
}

/* How far the fronts stand before the face. */
static dw_length proud_of(const struct dwi_banks *banks)
{
    dw_length proud = 0;
    for (size_t b = 0; b < banks->count; b++)
        proud = dw_most(proud, -cut_of(banks, dwi_bank_at(banks, b)).front_from);
    return proud;
}

static dw_length back_of(const struct dwi_banks *banks)
{
    const dw_length back = banks->of->source->back;
    return back > 0 ? back : 0;
}

static dw_length section_depth(const struct dwi_banks *banks)
{
    if (banks->of->inside_depth != DW_LENGTH_UNSET && banks->of->inside_depth > 0)
        return banks->of->inside_depth + back_of(banks);
    if (banks->of->depth > 0)
        return banks->of->depth;
    return deepest(banks);
}

/* A rectangle given by its reach across the case and its depths. */
static struct dwi_area box_at(const struct dwi_view *view, dw_length left, dw_length right, dw_length from, dw_length to)
{
    return dwi_view_area(view, left, from, right - left, to - from);
}

static void draw_member(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area at)
{
    dwi_rectangle(pad, at, DWI_LINE, DW_TONE_INK, DW_TONE_PALE, banks->of->address);
}

/* Sides, partitions and back; the stiles of a face frame in front of them. */
static void draw_carcass(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_view *view)
{
    const struct dw_sized_case *of = banks->of;
    const bool framed = of->source->style == DW_FACE_FRAME && of->source->frame_thickness > 0;
    const dw_length frame = framed ? of->source->frame_thickness : 0;
    const dw_length depth = section_depth(banks);
    const dw_length inner = depth - back_of(banks);
    const dw_length side = of->inside_width > 0 && of->inside_width < of->width ? (of->width - of->inside_width) / 2 : of->opening.x;
    const dw_length left = dwi_banks_left(banks);
    const dw_length right = dwi_banks_right(banks);
    if (!dwi_banks_go_on_left(banks) && side > 0)
        draw_member(pad, banks, box_at(view, 0, side, frame, depth));
    if (!dwi_banks_go_on_right(banks) && side > 0)
        draw_member(pad, banks, box_at(view, of->width - side, of->width, frame, depth));
    if (back_of(banks) > 0)
        draw_member(pad, banks, box_at(view, left == 0 ? side : left, right == of->width ? of->width - side : right, inner, depth));
    dw_length reached = left;
    for (size_t b = 0; b <= banks->count; b++) {
        const dw_length next = b == banks->count ? right : of->banks[banks->first + b].opening.x;
        const bool outer = (b == 0 && left == 0) || (b == banks->count && right == of->width);
        const dw_length behind = of->source->partition_behind;
        if (framed && next > reached)
            draw_member(pad, banks, box_at(view, reached, next, 0, frame));
        if (!outer && framed && behind > 0)
            draw_member(pad, banks, box_at(view, (reached + next - behind) / 2, (reached + next + behind) / 2, frame, inner));
        if (!outer && !framed && next > reached)
            draw_member(pad, banks, box_at(view, reached, next, 0, inner));
        if (b < banks->count)
            reached = next + of->banks[banks->first + b].opening.width;
    }
}

static void draw_box(struct dwi_pad *pad, const struct dwi_banks *banks, const struct cut_drawer *cut, const struct dwi_view *view)
{
    const struct dw_sized_drawer *drawer = cut->drawer;
    const struct dw_box *box = &drawer->drawer->box;
    const dw_length left = drawer->box.x;
    const dw_length right = left + drawer->box.width;
    const dw_length side = material_of(banks, box->side_material)->thickness;
    const dw_length front = material_of(banks, box->front_material)->thickness;
    const dw_length back = material_of(banks, box->back_material)->thickness;
    dwi_rectangle(pad, box_at(view, left, right, cut->box_from, cut->box_to), DWI_LINE, DW_TONE_INK, DW_TONE_PAPER, drawer->address);
    dwi_rectangle(pad, box_at(view, left + side, right - side, cut->box_from + front, cut->box_to - back), DWI_FINE, DW_TONE_INK, DW_TONE_PAPER,
                  drawer->address);
    for (int s = 0; s < 2; s++) {
        const dw_length x = s == 0 ? left : right - side;
        dwi_rectangle(pad, box_at(view, x, x + side, cut->box_from, cut->box_to), DWI_FINE, DW_TONE_INK, DW_TONE_NONE, drawer->address);
    }
    if (drawer->drawer->front.kind != DW_FRONT_IS_BOX_FRONT)
        dwi_rectangle(pad, box_at(view, drawer->front.x, drawer->front.x + drawer->front.width, cut->front_from, cut->front_to), DWI_LINE, DW_TONE_INK,
                      DW_TONE_PAPER, drawer->address);
}

static void draw_slides(struct dwi_pad *pad, const struct cut_drawer *cut, const struct dwi_view *view)
{
    const struct dw_sized_drawer *drawer = cut->drawer;
    if (cut->slide_from == cut->slide_to)
        return;
    const dw_length left = drawer->box.x;
    const dw_length right = left + drawer->box.width;
    const dw_length clear = drawer->side_clearance;
    const dw_length ends[2][2] = {{left - clear, left}, {right, right + clear}};
    for (int s = 0; s < 2; s++) {
        if (clear > 0)
            dwi_rectangle(pad, box_at(view, ends[s][0], ends[s][1], cut->slide_from, cut->slide_to), DWI_FINE, DW_TONE_COOL, DW_TONE_COOL, drawer->address);
        const dw_length packing = drawer->packing[s];
        const dw_length x = s == 0 ? ends[0][0] - packing : ends[1][1];
        if (packing > 0)
            dwi_rectangle(pad, box_at(view, x, x + packing, cut->slide_from, cut->slide_to), DWI_FINE, DW_TONE_INK, DW_TONE_PALE, drawer->address);
    }
}

/* "drawers 1 to 8", "drawers 1, 2, 5": those of the bank that look like this one; shorter where that is too long. */
static const char *names_of(struct dw_arena *arena, const struct dwi_banks *banks, const struct cut_drawer *cut, dw_dot most)
{
    struct dw_text text = dw_text_in(arena);
    size_t run = 0; /* drawers before this one that are alike and follow one another */
    size_t count = 0;
    for (size_t d = 0; d <= cut->bank->drawer_count; d++) {
        bool alike = false;
        if (d < cut->bank->drawer_count && has_box(&cut->bank->drawers[d])) {
            const struct cut_drawer other = cut_through(banks, cut->bank, d);
            alike = alike_in_plan(cut, &other);
        }
        if (alike && run++ == 0)
            dw_text_addf(&text, "%s%s", count == 0 ? "" : ", ", dwi_last_name(cut->bank->drawers[d].path));
        if (!alike && run > 1)
            dw_text_addf(&text, run == 2 ? ", %s" : " to %s", dwi_last_name(cut->bank->drawers[d - 1].path));
        run = alike ? run : 0;
        count += alike ? 1 : 0;
    }
    const char *worded = dw_arena_format(arena, count == 1 ? "drawer %s" : "drawers %s", text.bytes);
    if (dwi_text_width(worded, DWI_BODY, true) <= most)
        return worded;
    if (count == 1 || dwi_text_width(text.bytes, DWI_BODY, true) <= most)
        return text.bytes;
    return dw_arena_format(arena, "%zu drawers, first %s", count, dwi_last_name(cut->drawer->path));
}

/* Bank, drawers, size and slide in the box, as far as they fit. */
static void label_box(struct dwi_pad *pad, const struct dwi_banks *banks, const struct cut_drawer *cut, const struct dwi_view *view)
{
    const struct dw_job *job = banks->sizing->job;
    struct dw_arena *arena = pad->arena;
    const struct dwi_area at = box_at(view, cut->drawer->box.x, cut->drawer->box.x + cut->drawer->box.width, cut->box_from, cut->box_to);
    const dw_dot room = dwi_wide(at) - 1200;
    const char *width = dwi_length(arena, job, cut->drawer->box_width.value);
    const char *depth = dwi_length(arena, job, cut->drawer->box_depth.value);
    const char *lines[] = {banks->of->bank_count > 1 ? dw_arena_format(arena, "bank %s", dwi_last_name(cut->bank->path)) : "",
                           names_of(arena, banks, cut, room), dw_arena_format(arena, "box %s \xC3\x97 %s", width, depth),
                           cut->slide_from == cut->slide_to ? "" : dw_arena_format(arena, "slide %s", dwi_length(arena, job, cut->drawer->slide_length.value))};
    if (dwi_text_width(dwi_typeset(arena, lines[2]), DWI_BODY, false) > room)
        lines[2] = dw_arena_format(arena, "%s \xC3\x97 %s", width, depth);
    dw_dot y = (at.y + at.y2) / 2 - dwi_leading(DWI_BODY);
    for (size_t i = 0; i < sizeof lines / sizeof *lines && dwi_high(at) >= 6000; i++, y += dwi_leading(DWI_BODY))
        if (i < 2 || dwi_text_width(dwi_typeset(arena, lines[i]), DWI_BODY, false) <= room)
            dwi_text(pad, (at.x + at.x2) / 2, y, (struct dwi_type){.anchor = DW_ANCHOR_MIDDLE, .bold = i < 2, .most = room, .as_it_is = i < 2},
                     cut->drawer->address, lines[i]);
}

/* ---- dimensions ------------------------------------------------------------------------------------------- */

struct spans {
    struct dwi_span *at;
    size_t count;
};

static void add_span(struct spans *spans, dw_dot from, dw_dot to, const char *text, const char *address)
{
    if (to > from)
        spans->at[spans->count++] = (struct dwi_span){.from = from, .to = to, .text = text, .address = address};
}

/* Across: from the left end of what is shown over clearances and boxes to the right end. */
static struct dwi_chain width_chain(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view, dw_dot low)
{
    const struct dw_job *job = banks->sizing->job;
    struct spans spans = {.at = dw_arena_alloc(arena, 4 * banks->count + 1, sizeof *spans.at)};
    dw_length reached = dwi_banks_go_on_left(banks) ? banks->of->banks[banks->first].opening.x : 0;
    for (size_t b = 0; b < banks->count; b++) {
        const struct cut_drawer cut = cut_of(banks, dwi_bank_at(banks, b));
        const struct dw_rectangle opening = cut.bank->opening;
        const dw_length right = opening.x + opening.width;
        const dw_length left_box = cut.drawer == NULL ? right : cut.drawer->box.x;
        const dw_length right_box = cut.drawer == NULL ? right : left_box + cut.drawer->box.width;
        const dw_length marks[] = {opening.x, left_box, right_box, right};
        for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
            if (marks[i] > reached)
                add_span(&spans, dwi_x(view, reached), dwi_x(view, marks[i]), dwi_length(arena, job, marks[i] - reached), cut.bank->address);
            reached = dw_most(reached, marks[i]);
        }
    }
    const dw_length right = dwi_banks_right(banks);
    if (right > reached && !dwi_banks_go_on_right(banks))
        add_span(&spans, dwi_x(view, reached), dwi_x(view, right), dwi_length(arena, job, right - reached), banks->of->address);
    return (struct dwi_chain){.spans = spans.at, .count = spans.count, .at = low + 1500, .object = low, .side = 1,
                              .low = dwi_x(view, dwi_banks_left(banks)) - 4000, .high = dwi_x(view, right) + 2400};
}

/* An upright chain over the given depths, the greatest first (the back lies at the top). */
static struct dwi_chain depth_chain(struct dw_arena *arena, const struct dwi_banks *banks, const struct dwi_view *view, const dw_length *depths,
                                    size_t count, struct dwi_area room)
{
    struct spans spans = {.at = dw_arena_alloc(arena, count, sizeof *spans.at)};
    for (size_t i = 0; i + 1 < count; i++)
        if (depths[i] > depths[i + 1])
            add_span(&spans, dwi_y(view, depths[i]), dwi_y(view, depths[i + 1]), dwi_length(arena, banks->sizing->job, depths[i] - depths[i + 1]),
                     banks->of->address);
    return (struct dwi_chain){.spans = spans.at, .count = spans.count, .object = dwi_x(view, dwi_banks_right(banks)), .side = 1,
                              .low = room.y + 1000, .high = room.y2};
}

static void draw_depth_chain(struct dwi_pad *pad, const struct dwi_chain *chain, dw_dot y, const char *name)
{
    dwi_chain_upright(pad, chain);
    dwi_text(pad, chain->at, y, (struct dwi_type){.size = DWI_NOTE, .anchor = DW_ANCHOR_MIDDLE, .ink = DW_TONE_GRAY}, "", name);
}

static bool same_depths(const struct cut_drawer *a, const struct cut_drawer *b)
{
    return a->front_from == b->front_from && a->box_from == b->box_from && a->box_to == b->box_to && a->slide_from == b->slide_from &&
           a->slide_to == b->slide_to;
}

/* The banks whose depths differ, as many as find place: each stands for those after it with the same depths. */
struct depth_sets {
    struct cut_drawer at[DEPTHS_MOST];
    size_t count;
};

static struct depth_sets depth_sets_of(const struct dwi_banks *banks)
{
    struct depth_sets sets = {.count = 0};
    for (size_t b = 0; b < banks->count && sets.count < DEPTHS_MOST; b++) {
        const struct cut_drawer cut = cut_of(banks, dwi_bank_at(banks, b));
        bool known = cut.drawer == NULL;
        for (size_t i = 0; i < sets.count && !known; i++)
            known = same_depths(&sets.at[i], &cut);
        if (!known)
            sets.at[sets.count++] = cut;
    }
    return sets;
}

/* "front, box", led by the bank's name where the depths of banks differ. */
static const char *depth_title(struct dw_arena *arena, const struct depth_sets *sets, size_t index, const char *words)
{
    return sets->count == 1 ? words : dw_arena_format(arena, "%s: %s", dwi_last_name(sets->at[index].bank->path), words);
}

/* One set of depths beside the section, from `start` to the right: front and box on the inner chain, the slide on the outer one. */
static void dimension_depth(struct dwi_pad *pad, const struct dwi_banks *banks, const struct depth_sets *sets, size_t index, const struct dwi_view *view,
                            struct dwi_area room)
{
    const dw_length depth = section_depth(banks);
    const struct cut_drawer *cut = &sets->at[index];
    const dw_length box[] = {depth, depth - back_of(banks), cut->box_to, cut->box_from, cut->front_from};
    const dw_length slide[] = {depth, cut->slide_to, cut->slide_from, 0};
    struct dwi_chain inner = depth_chain(pad->arena, banks, view, box, sizeof box / sizeof *box, room);
    struct dwi_chain outer = depth_chain(pad->arena, banks, view, slide, sizeof slide / sizeof *slide, room);
    inner.at = inner.object + (dw_dot)index * DEPTH_ROOM + FIRST_CHAIN;
    outer.at = inner.at + dwi_chain_reach(pad->arena, &inner, false) + NEXT_CHAIN;
    if (index > 0)
        inner.object = outer.object = inner.at - FIRST_CHAIN / 4; /* far from the case: short extension lines alone */
    if (cut->slide_from != cut->slide_to)
        draw_depth_chain(pad, &outer, room.y + 400, "slide");
    draw_depth_chain(pad, &inner, room.y + 400, depth_title(pad->arena, sets, index, "front, box"));
}

static struct dwi_view view_in(const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    return (struct dwi_view){.x = room.x + LEFT_ROOM - dwi_dots(dwi_banks_left(banks), scale),
                             .y = room.y + TOP_ROOM + dwi_dots(section_depth(banks), scale), .scale = scale, .y_up = true};
}

static void draw_breaks(struct dwi_pad *pad, const struct dwi_banks *banks, const struct dwi_view *view)
{
    const dw_dot top = dwi_y(view, section_depth(banks));
    const dw_dot low = dwi_y(view, -proud_of(banks));
    if (dwi_banks_go_on_left(banks))
        dwi_break_line(pad, dwi_x(view, dwi_banks_left(banks)) - 500, top, low);
    if (dwi_banks_go_on_right(banks))
        dwi_break_line(pad, dwi_x(view, dwi_banks_right(banks)) + 500, top, low);
}

dw_dot dwi_draw_section(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    const struct dwi_view view = view_in(banks, room, scale);
    draw_carcass(pad, banks, &view);
    for (size_t b = 0; b < banks->count; b++) {
        const struct cut_drawer cut = cut_of(banks, dwi_bank_at(banks, b));
        if (cut.drawer == NULL)
            continue;
        draw_box(pad, banks, &cut, &view);
        draw_slides(pad, &cut, &view);
        label_box(pad, banks, &cut, &view);
    }
    const dw_dot low = dwi_y(&view, -proud_of(banks));
    const struct dwi_chain across = width_chain(pad->arena, banks, &view, low);
    dwi_chain_level(pad, &across);
    const struct depth_sets sets = depth_sets_of(banks);
    for (size_t i = 0; i < sets.count; i++)
        dimension_depth(pad, banks, &sets, i, &view, (struct dwi_area){room.x, room.y, room.x2, low + 2400});
    draw_breaks(pad, banks, &view);
    return across.at + dwi_chain_reach(pad->arena, &across, true) + BOTTOM_AIR;
}

struct dwi_extent dwi_section_extent(struct dw_arena *arena, const struct dwi_banks *banks, int64_t scale)
{
    const struct dwi_view view = view_in(banks, (struct dwi_area){0, 0, 0, 0}, scale);
    const struct dwi_chain across = width_chain(arena, banks, &view, dwi_y(&view, -proud_of(banks)));
    return (struct dwi_extent){dwi_x(&view, dwi_banks_right(banks)) + (dw_dot)dw_most(1, (dw_length)depth_sets_of(banks).count) * DEPTH_ROOM, across.at + dwi_chain_reach(arena, &across, true) + BOTTOM_AIR};
}

int64_t dwi_section_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room)
{
    int64_t scale = 1;
    for (; scale <= DWI_SCALE_MOST; scale++) {
        const struct dwi_extent extent = dwi_section_extent(arena, banks, scale);
        if (extent.width <= dwi_wide(room) && extent.height <= dwi_high(room))
            break;
    }
    return scale;
}

int64_t dwi_case_scale(struct dw_arena *arena, const struct dwi_banks *banks, struct dwi_area room)
{
    room.y2 -= DWI_CAPTION_HIGH;
    int64_t scale = dwi_section_scale(arena, banks, room);
    const int64_t other = dwi_elevation_scale(arena, banks, room);
    for (scale = scale > other ? scale : other; scale <= DWI_SCALE_MOST; scale++) {
        const dw_dot section = dwi_section_extent(arena, banks, scale).height;
        const struct dwi_area above = {room.x, room.y, room.x2, room.y2 - section};
        const struct dwi_extent elevation = dwi_elevation_extent(arena, banks, above, scale);
        if (elevation.height <= dwi_high(above) && elevation.width <= dwi_wide(above))
            break;
    }
    return scale;
}

void dwi_draw_caption(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale, const char *what)
{
    dwi_text(pad, room.x, room.y2 - 300, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .most = dwi_wide(room)}, banks->of->address,
             dw_arena_format(pad->arena, "1 : %lld, lengths in %s. %s", (long long)scale,
                             banks->sizing->job->unit == DW_IN ? "inches" : "millimeters", what));
}

void dwi_draw_case_views(struct dwi_pad *pad, const struct dwi_banks *banks, struct dwi_area room, int64_t scale)
{
    const struct dwi_extent section = dwi_section_extent(pad->arena, banks, scale);
    struct dwi_area above = {room.x, room.y, room.x2, room.y2 - DWI_CAPTION_HIGH - section.height};
    (void)dwi_draw_elevation(pad, banks, above, scale);
    dwi_draw_section(pad, banks, (struct dwi_area){room.x, above.y2, room.x2, room.y2 - DWI_CAPTION_HIGH}, scale);
    const bool heights = dwi_elevation_is_whole(pad->arena, banks, above, scale);
    const bool kinds = dwi_section_levels(banks) == 1;
    const char *missing = heights ? "sections of all drawers" : kinds ? "heights of all banks" : "heights and sections of all drawers";
    const char *rest = heights && kinds ? "" : dw_arena_format(pad->arena, " The packet has the %s.", missing);
    dwi_draw_caption(pad, banks, room, scale,
                     dw_arena_format(pad->arena, "Slide heights are from the case floor. Elevation above, plan section below.%s", rest));
}
