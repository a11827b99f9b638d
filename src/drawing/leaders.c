/* leaders.c - labels led out of pieces that are too small for them.
 *
 * A label goes into waste nearby where it fits there whole. The others go to the nearer margin: straight out at any height of the piece at which no
 * label is in the way, else along the piece to a height at which the way is free. No leader crosses a label or another leader: each is tried against
 * all that was found before. Labels in a margin stand in the order in which their leaders leave the sheet.
 */
#include "leaders.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

#include "dimension.h"

enum {
    LABEL_ROW = 1200,    /* from one label in a margin to the next */
    OUTSIDE = 1500,      /* length of a leader beside the sheet */
    BEND = 400,          /* so far it goes on straight there */
    BETWEEN = 350,       /* a mark and its size */
    LINE_AIR = 130,      /* around a leader */
    TEXT_AIR = 150,      /* before and behind a label in waste, */
    LINE_GAP = 40,       /* over and under it */
    STEP = 60,           /* of the heights that are tried within a piece */
    WIDE_STEP = 150,     /* ... and beyond it */
    ROW_STEP = 600,      /* of the places tried in waste */
    NEARBY = 25,         /* waste is nearby within so many percent of the sheet's length */
    DOT = 110
};

void dwi_add_area(struct dw_arena *arena, struct dwi_areas *areas, struct dwi_area area)
{
    areas->at = dw_arena_grow(arena, areas->at, areas->count, &areas->capacity, sizeof *areas->at);
    areas->at[areas->count++] = area;
}

bool dwi_meets_any(const struct dwi_areas *areas, struct dwi_area area)
{
    for (size_t i = 0; i < areas->count; i++)
        if (dwi_areas_meet(areas->at[i], area))
            return true;
    return false;
}

/* The search for ways: what is on the sheet, and what was found. */
struct leading {
    struct dw_arena *arena;
    const struct dwi_leading *sheet;
    struct dwi_areas lines;   /* leaders found, with air around them */
    struct dwi_areas texts;   /* labels put into waste */
    struct dwi_leaders found;
};

static dw_dot least(dw_dot a, dw_dot b)
{
    return a < b ? a : b;
}

static dw_dot most(dw_dot a, dw_dot b)
{
    return a > b ? a : b;
}

static dw_dot clamp(dw_dot value, dw_dot low, dw_dot high)
{
    return value < low ? low : value > high ? high : value;
}

static dw_dot mark_width(const struct dwi_label *label)
{
    return dwi_text_width(label->mark, DWI_NOTE, true);
}

static dw_dot size_width(const struct dwi_label *label)
{
    return dwi_text_width(label->size, DWI_NOTE, false);
}

static dw_dot one_line_width(const struct dwi_label *label)
{
    return mark_width(label) + BETWEEN + size_width(label);
}

static dw_dot line_high(void)
{
    return DWI_NOTE * (DWI_ASCENT + DWI_DESCENT) / 100;
}

static struct dwi_area round_line(dw_dot x, dw_dot y, dw_dot x2, dw_dot y2)
{
    return (struct dwi_area){least(x, x2) - LINE_AIR, least(y, y2) - LINE_AIR, most(x, x2) + LINE_AIR, most(y, y2) + LINE_AIR};
}

static bool is_clear(const struct leading *leading, struct dwi_area area)
{
    return !dwi_meets_any(&leading->sheet->texts, area) && !dwi_meets_any(&leading->lines, area) && !dwi_meets_any(&leading->texts, area);
}

static void add_point(struct dwi_leader *leader, dw_dot x, dw_dot y)
{
    leader->points[2 * leader->point_count] = x;
    leader->points[2 * leader->point_count + 1] = y;
    leader->point_count++;
}

static void keep_lines(struct leading *leading, const struct dwi_leader *leader)
{
    const dw_dot *p = leader->points;
    for (size_t i = 0; i + 1 < leader->point_count; i++, p += 2)
        dwi_add_area(leading->arena, &leading->lines, round_line(p[0], p[1], p[2], p[3]));
}

/* The part of a piece in which a leader's dot may lie. */
static struct dwi_area heart_of(struct dwi_area piece)
{
    const dw_dot x = least(300, dwi_wide(piece) / 2);
    const dw_dot y = least(300, dwi_high(piece) / 2);
    return (struct dwi_area){piece.x + x, piece.y + y, piece.x2 - x, piece.y2 - y};
}

/* ---- into waste ------------------------------------------------------------------------------------------- */

/* A label standing in waste, led by an L: level from the piece or upright to it first, whichever is clear. */
static bool lead_to(struct leading *leading, struct dwi_leader *leader, struct dwi_area text)
{
    const struct dwi_area heart = heart_of(leader->label->at);
    const dw_dot x = clamp((text.x + text.x2) / 2, heart.x, heart.x2);
    const dw_dot y = clamp((text.y + text.y2) / 2, heart.y, heart.y2);
    const dw_dot to_x = clamp(x, text.x, text.x2);
    const dw_dot to_y = clamp(y, text.y, text.y2);
    for (int pass = 0; pass < 2; pass++) {
        const dw_dot corner_x = pass == 0 ? to_x : x;
        const dw_dot corner_y = pass == 0 ? y : to_y;
        if (!is_clear(leading, round_line(x, y, corner_x, corner_y)) || !is_clear(leading, round_line(corner_x, corner_y, to_x, to_y)))
            continue;
        leader->point_count = 0;
        add_point(leader, x, y);
        if ((corner_x != x || corner_y != y) && (corner_x != to_x || corner_y != to_y))
            add_point(leader, corner_x, corner_y);
        add_point(leader, to_x, to_y);
        leader->text = text;
        return true;
    }
    return false;
}

static int64_t way_length(const struct dwi_leader *leader)
{
    int64_t length = 0;
    for (size_t i = 2; i < 2 * leader->point_count; i++)
        length += llabs((int64_t)leader->points[i] - leader->points[i - 2]);
    return length;
}

/* How far the gap between two areas is, across and down together. */
static int64_t distance(struct dwi_area a, struct dwi_area b)
{
    const dw_dot across = most(0, most(a.x - b.x2, b.x - a.x2));
    const dw_dot down = most(0, most(a.y - b.y2, b.y - a.y2));
    return (int64_t)across + down;
}

/* The best place in one piece of waste for a label so wide and high: rows of places at the left, nearest, and at the right. */
static void try_open(struct leading *leading, struct dwi_area open, bool two_lines, struct dwi_leader *best, int64_t *limit)
{
    const struct dwi_label *label = best->label;
    const dw_dot wide = (two_lines ? most(mark_width(label), size_width(label)) : one_line_width(label)) + 2 * TEXT_AIR;
    const dw_dot high = (two_lines ? 2 : 1) * line_high() + 2 * LINE_GAP;
    const dw_dot low_x = open.x + TEXT_AIR;
    const dw_dot high_x = open.x2 - TEXT_AIR - wide;
    const dw_dot low_y = open.y + LINE_GAP;
    const dw_dot high_y = open.y2 - LINE_GAP - high;
    if (high_x < low_x || high_y < low_y)
        return;
    const dw_dot nearest_x = clamp((label->at.x + label->at.x2 - wide) / 2, low_x, high_x);
    const dw_dot nearest_y = clamp((label->at.y + label->at.y2 - high) / 2, low_y, high_y);
    const dw_dot columns[] = {nearest_x, low_x, high_x};
    for (dw_dot row = low_y; row <= high_y; row += ROW_STEP)
        for (size_t c = 0; c < sizeof columns / sizeof *columns; c++) {
            const dw_dot y = row == low_y ? nearest_y : row;
            const struct dwi_area text = {columns[c], y, columns[c] + wide, y + high};
            struct dwi_leader tried = *best;
            if (distance(text, label->at) >= *limit || !is_clear(leading, text) || !lead_to(leading, &tried, text) || way_length(&tried) >= *limit)
                continue;
            tried.two_lines = two_lines;
            tried.led = true;
            *limit = way_length(&tried);
            *best = tried;
        }
}

static bool lead_into_waste(struct leading *leading, struct dwi_leader *leader)
{
    int64_t limit = (int64_t)dwi_wide(leading->sheet->sheet) * NEARBY / 100;
    for (size_t i = 0; i < leading->sheet->open.count; i++) {
        if (distance(leading->sheet->open.at[i], leader->label->at) >= limit)
            continue;
        try_open(leading, leading->sheet->open.at[i], false, leader, &limit);
        try_open(leading, leading->sheet->open.at[i], true, leader, &limit);
    }
    if (!leader->led)
        return false;
    dwi_add_area(leading->arena, &leading->texts, leader->text);
    keep_lines(leading, leader);
    return true;
}

/* ---- to a margin ------------------------------------------------------------------------------------------ */

/* Out of the piece at this height, from x along it: where the leader leaves the piece's own height it first runs upright. */
static bool lead_out(struct leading *leading, struct dwi_leader *leader, dw_dot x, dw_dot y)
{
    const struct dwi_area heart = heart_of(leader->label->at);
    const dw_dot start = clamp(y, heart.y, heart.y2);
    const dw_dot edge = leader->side > 0 ? leading->sheet->sheet.x2 : leading->sheet->sheet.x;
    if (!is_clear(leading, round_line(x, y, edge, y)) || (start != y && !is_clear(leading, round_line(x, start, x, y))))
        return false;
    leader->point_count = 0;
    add_point(leader, x, start);
    if (start != y)
        add_point(leader, x, y);
    add_point(leader, edge, y);
    leader->led = true;
    keep_lines(leading, leader);
    return true;
}

/* Heights are tried from the piece's middle outward. */
static bool lead_at_height(struct leading *leading, struct dwi_leader *leader, dw_dot x, dw_dot low, dw_dot high, dw_dot step)
{
    const dw_dot middle = (leader->label->at.y + leader->label->at.y2) / 2;
    for (dw_dot off = 0; middle - off >= low || middle + off <= high; off += step) {
        if (middle - off >= low && middle - off <= high && lead_out(leading, leader, x, middle - off))
            return true;
        if (off > 0 && middle + off <= high && middle + off >= low && lead_out(leading, leader, x, middle + off))
            return true;
    }
    return false;
}

static bool lead_to_margin(struct leading *leading, struct dwi_leader *leader)
{
    const struct dwi_area heart = heart_of(leader->label->at);
    const struct dwi_area sheet = leading->sheet->sheet;
    const dw_dot columns[] = {leader->side > 0 ? heart.x2 : heart.x, (heart.x + heart.x2) / 2, leader->side > 0 ? heart.x : heart.x2};
    if (lead_at_height(leading, leader, columns[0], heart.y, heart.y2, STEP))
        return true;
    for (size_t c = 0; c < sizeof columns / sizeof *columns; c++)
        if (lead_at_height(leading, leader, columns[c], sheet.y + WIDE_STEP, sheet.y2 - WIDE_STEP, WIDE_STEP))
            return true;
    return false;
}

static int nearer_side(const struct leading *leading, const struct dwi_label *label)
{
    const struct dwi_area sheet = leading->sheet->sheet;
    return leading->sheet->left_free && label->at.x - sheet.x < sheet.x2 - label->at.x2 ? -1 : 1;
}

/* As many find a way as the margin has rows; the nearer one first, then the other. */
static void lead_one(struct leading *leading, struct dwi_leader *leader, size_t *taken)
{
    const size_t rows = (size_t)(dwi_high(leading->sheet->sheet) / LABEL_ROW);
    const int nearer = nearer_side(leading, leader->label);
    const int margins = leading->sheet->waste_only ? 0 : leading->sheet->left_free ? 2 : 1;
    for (int pass = 0; pass < margins; pass++) {
        leader->side = pass == 0 ? nearer : -nearer;
        size_t *count = &taken[leader->side > 0];
        if (*count >= rows || !lead_to_margin(leading, leader))
            continue;
        dw_dot *room = &leading->found.room[leader->side > 0];
        ++*count;
        *room = most(*room, OUTSIDE + one_line_width(leader->label) + BETWEEN);
        return;
    }
    leading->found.missing++;
}

static int by_exit(const void *left, const void *right)
{
    const struct dwi_leader *a = left;
    const struct dwi_leader *b = right;
    const dw_dot from = a->point_count == 0 ? 0 : a->points[2 * a->point_count - 1];
    const dw_dot to = b->point_count == 0 ? 0 : b->points[2 * b->point_count - 1];
    if (from != to)
        return from < to ? -1 : 1;
    return a->label < b->label ? -1 : a->label > b->label ? 1 : 0;
}

struct dwi_leaders dwi_lead(struct dw_arena *arena, const struct dwi_label *led, size_t count, const struct dwi_leading *sheet)
{
    struct leading leading = {.arena = arena, .sheet = sheet, .found = {.at = dw_arena_alloc(arena, count, sizeof(struct dwi_leader)), .count = count}};
    size_t taken[2] = {0, 0};
    for (size_t i = 0; i < count; i++) {
        leading.found.at[i].label = &led[i];
        (void)lead_into_waste(&leading, &leading.found.at[i]);
    }
    for (size_t i = 0; i < count; i++)
        if (!leading.found.at[i].led)
            lead_one(&leading, &leading.found.at[i], taken);
    if (count > 1)
        qsort(leading.found.at, count, sizeof *leading.found.at, by_exit);
    return leading.found;
}

/* ---- drawing ---------------------------------------------------------------------------------------------- */

/* A paper-white edge lets the line pass over what it crosses. */
static void draw_line(struct dwi_pad *pad, const struct dwi_leader *leader, struct dwi_areas *taken)
{
    const dw_dot *p = leader->points;
    dwi_polyline(pad, leader->points, leader->point_count, 3 * DWI_FINE, DW_TONE_PAPER);
    dwi_polyline(pad, leader->points, leader->point_count, DWI_FINE, DW_TONE_INK);
    dwi_circle(pad, p[0], p[1], DOT, 0, DW_TONE_NONE, DW_TONE_INK);
    for (size_t i = 0; i + 1 < leader->point_count; i++, p += 2)
        dwi_add_area(pad->arena, taken, round_line(p[0], p[1], p[2], p[3]));
}

static void write_in_waste(struct dwi_pad *pad, const struct dwi_leader *leader, struct dwi_areas *taken)
{
    const struct dwi_label *label = leader->label;
    const struct dwi_type mark = {.size = DWI_NOTE, .bold = true, .as_it_is = true, .behind = DW_TONE_PAPER};
    const struct dwi_type size = {.size = DWI_NOTE, .behind = DW_TONE_PAPER};
    const dw_dot x = leader->text.x + TEXT_AIR;
    const dw_dot y = leader->text.y + LINE_GAP + DWI_NOTE * DWI_ASCENT / 100;
    dwi_rectangle(pad, leader->text, 0, DW_TONE_NONE, DW_TONE_PAPER, label->address);
    dwi_text(pad, x, y, mark, label->address, label->mark);
    if (leader->two_lines)
        dwi_text(pad, x, y + line_high(), size, label->address, label->size);
    else
        dwi_text(pad, x + mark_width(label) + BETWEEN, y, size, label->address, label->size);
    dwi_add_area(pad->arena, taken, leader->text);
}

static void write_in_margin(struct dwi_pad *pad, const struct dwi_leader *leader, dw_dot edge, dw_dot center, dw_dot room)
{
    const struct dwi_label *label = leader->label;
    const dw_dot from = leader->points[2 * leader->point_count - 1];
    const dw_dot y = center + DWI_NOTE * DWI_CAP / 200;
    const dw_dot wide = least(one_line_width(label), room);
    const dw_dot x = leader->side > 0 ? edge + OUTSIDE : edge - OUTSIDE - wide;
    const dw_dot points[] = {edge, from, edge + leader->side * BEND, from, edge + leader->side * (OUTSIDE - 200), center};
    dwi_polyline(pad, points, 3, DWI_FINE, DW_TONE_INK);
    const dw_dot taken = dwi_text(pad, x, y, (struct dwi_type){.size = DWI_NOTE, .bold = true, .as_it_is = true, .most = wide}, label->address, label->mark);
    if (taken + BETWEEN + 1500 < wide)
        dwi_text(pad, x + taken + BETWEEN, y, (struct dwi_type){.size = DWI_NOTE, .most = wide - taken - BETWEEN}, label->address, label->size);
}

/* The labels of one margin, moved apart. */
static void draw_margin(struct dwi_pad *pad, const struct dwi_leaders *leaders, int side, struct dwi_area sheet, struct dwi_area room)
{
    const struct dwi_leader **shown = dw_arena_alloc(pad->arena, leaders->count, sizeof *shown);
    dw_dot *centers = dw_arena_alloc(pad->arena, leaders->count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(pad->arena, leaders->count, sizeof *sizes);
    size_t count = 0;
    for (size_t i = 0; i < leaders->count; i++) {
        const struct dwi_leader *leader = &leaders->at[i];
        if (!leader->led || leader->side != side)
            continue;
        shown[count] = leader;
        centers[count] = leader->points[2 * leader->point_count - 1];
        sizes[count++] = LABEL_ROW;
    }
    (void)dwi_spread(pad->arena, centers, sizes, count, sheet.y, sheet.y2);
    const dw_dot edge = side > 0 ? sheet.x2 : sheet.x;
    for (size_t i = 0; i < count; i++)
        write_in_margin(pad, shown[i], edge, centers[i], (side > 0 ? room.x2 - edge : edge - room.x) - OUTSIDE);
}

void dwi_draw_leaders(struct dwi_pad *pad, const struct dwi_leaders *leaders, struct dwi_area sheet, struct dwi_area room, struct dwi_areas *taken)
{
    for (size_t i = 0; i < leaders->count; i++)
        if (leaders->at[i].led)
            draw_line(pad, &leaders->at[i], taken);
    for (size_t i = 0; i < leaders->count; i++)
        if (leaders->at[i].led && leaders->at[i].side == 0)
            write_in_waste(pad, &leaders->at[i], taken);
    draw_margin(pad, leaders, -1, sheet, room);
    draw_margin(pad, leaders, 1, sheet, room);
}
