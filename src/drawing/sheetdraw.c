/* sheetdraw.c - a sheet as it is cut: parts with mark and size, kerfs, settings along the edges, first cuts numbered, offcuts hatched, waste plain.
 *
 * The sheet is painted in ink and every piece is laid on it, so that what stays dark is what the blade takes, to scale. A label goes into its
 * part in the largest way that fits: two lines, one line, upright; what is too small for one gets a leader line to the margin instead.
 */
#include "sheetdraw.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "cuts.h"
#include "dimension.h"

enum {
    LEFT_ROOM = 6600,    /* the chain of rips and their numbers */
    TOP_ROOM = 4600,     /* likewise of crosscuts */
    RIGHT_ROOM = 1400,   /* nothing ... */
    LEADER_ROOM = 12500, /* ... or the labels of small parts */
    BOTTOM_ROOM = 6800,  /* grain, and what is to know */
    GRAIN_STEP = 500,
    HATCH_STEP = 450,
    LABEL_AIR = 300,
    LABEL_ROW = 1200
};

/* A piece of the sheet and what is to be written on it. */
struct label {
    struct dwi_area at;
    size_t within;
    const char *mark, *size;
    const char *address;
};

struct sheet_drawing {
    struct dwi_pad *pad;
    const struct dw_job *job;
    const struct dw_material_layout *layout;
    const struct dw_layouts *layouts;
    const struct dw_layout_sheet *sheet;
    const struct dw_sheet_source *source;
    const struct dw_material *material;
    struct dwi_view view;
    struct label *labels;
    size_t label_count, label_capacity;
};

static struct sheet_drawing drawing_of(struct dwi_pad *pad, const struct dwi_sheet *of)
{
    const struct dw_layouts *layouts = of->purchase->layouts;
    const struct dw_material_layout *layout = &layouts->materials[of->material];
    const struct dw_job *job = layouts->jobs[0]->sizing->job;
    return (struct sheet_drawing){
        .pad = pad,
        .job = job,
        .layout = layout,
        .layouts = layouts,
        .sheet = &layout->sheets[of->sheet],
        .source = &layout->problem->sources[layout->sheets[of->sheet].source],
        .material = &job->shop.materials[layout->problem->material],
    };
}

const char *dwi_sheet_title(struct dw_arena *arena, const struct dwi_sheet *of)
{
    const struct dw_layouts *layouts = of->purchase->layouts;
    const struct dw_material_layout *layout = &layouts->materials[of->material];
    const struct dw_job *job = layouts->jobs[0]->sizing->job;
    return dw_arena_format(arena, "Sheet %s: %s", layout->sheets[of->sheet].name, job->shop.materials[layout->problem->material].name);
}

/* ---- pieces ----------------------------------------------------------------------------------------------- */

static void add_label(struct sheet_drawing *drawing, struct label label)
{
    drawing->labels = dw_arena_grow(drawing->pad->arena, drawing->labels, drawing->label_count, &drawing->label_capacity, sizeof *drawing->labels);
    drawing->labels[drawing->label_count++] = label;
}

static const char *address_of(const struct sheet_drawing *drawing, struct dw_piece_ref ref)
{
    const struct dw_parts *parts = drawing->layouts->jobs[ref.job];
    const struct dw_piece *piece = &parts->at[ref.part].pieces[ref.piece];
    const struct dw_sizing *sizing = parts->sizing;
    if (piece->case_index >= sizing->case_count)
        return "";
    const struct dw_sized_case *of = &sizing->cases[piece->case_index];
    if (piece->bank_index >= of->bank_count || piece->drawer_index >= of->banks[piece->bank_index].drawer_count)
        return of->address;
    return of->banks[piece->bank_index].drawers[piece->drawer_index].address;
}

static const char *size_words(const struct sheet_drawing *drawing, dw_length length, dw_length width)
{
    struct dw_arena *arena = drawing->pad->arena;
    return dw_arena_format(arena, "%s \xC3\x97 %s", dwi_length(arena, drawing->job, length), dwi_length(arena, drawing->job, width));
}

/* What is written on a part or an offcut to keep. */
static struct label label_of(const struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    struct label label = {.at = dwi_view_area(&drawing->view, node->x, node->y, node->length, node->width), .mark = node->mark, .address = ""};
    if (node->use == DW_NODE_KEEP) {
        label.mark = dw_arena_format(drawing->pad->arena, "keep %s", node->mark);
        label.size = size_words(drawing, node->length, node->width);
        return label;
    }
    const struct dw_part *part = &drawing->layouts->jobs[node->piece.job]->at[node->piece.part];
    label.size = size_words(drawing, part->length.value, part->width.value);
    label.address = address_of(drawing, node->piece);
    return label;
}

static void draw_labeled(struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    struct dwi_pad *pad = drawing->pad;
    struct label label = label_of(drawing, node);
    label.within = dwi_rectangle(pad, label.at, 0, DW_TONE_NONE, DW_TONE_PAPER, label.address);
    const struct dwi_area inner = {label.at.x + 100, label.at.y + 100, label.at.x2 - 100, label.at.y2 - 100};
    if (node->use == DW_NODE_KEEP)
        dwi_hatch(pad, inner, DWI_SLANTED, HATCH_STEP, DWI_HAIR, DW_TONE_GRAY);
    else if (drawing->material->grained)
        dwi_hatch(pad, inner, drawing->source->grain_across ? DWI_ALONG_Y : DWI_ALONG_X, GRAIN_STEP, 20, DW_TONE_PALE);
    add_label(drawing, label);
}

static void draw_node(struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    const struct dwi_area at = dwi_view_area(&drawing->view, node->x, node->y, node->length, node->width);
    switch (node->use) {
    case DW_NODE_CUT:
        for (size_t i = 0; i < node->piece_count; i++)
            draw_node(drawing, &node->pieces[i]);
        break;
    case DW_NODE_PART:
    case DW_NODE_KEEP:
        draw_labeled(drawing, node);
        break;
    case DW_NODE_WASTE:
        dwi_rectangle(drawing->pad, at, 0, DW_TONE_NONE, DW_TONE_PALE, "");
        break;
    }
}

/* ---- labels ----------------------------------------------------------------------------------------------- */

/* One way to write a label into a piece. */
struct manner {
    dw_dot mark_size, size_size;
    bool two_lines, upright;
};

static const struct manner manners[] = {
    {1700, 1300, true, false},  {1400, 1100, true, false},  {1200, 1000, true, false}, {1000, 1000, true, false}, {1400, 1100, true, true},
    {1200, 1000, true, true},   {1000, 1000, true, true},   {1300, 1200, false, false}, {1100, 1000, false, false}, {1100, 1000, false, true},
    {850, 850, false, false},   {850, 850, false, true},
};

static dw_dot line_height(dw_dot size)
{
    return size * (DWI_ASCENT + DWI_DESCENT) / 100;
}

static bool fits(const struct label *label, const struct manner *manner)
{
    const dw_dot mark = dwi_text_width(label->mark, manner->mark_size, true);
    const dw_dot size = dwi_text_width(label->size, manner->size_size, false);
    const dw_dot long_way = manner->two_lines ? (mark > size ? mark : size) : mark + manner->mark_size / 2 + size;
    const dw_dot short_way = manner->two_lines ? line_height(manner->mark_size) + line_height(manner->size_size) : line_height(manner->mark_size);
    const dw_dot room_long = manner->upright ? dwi_high(label->at) : dwi_wide(label->at);
    const dw_dot room_short = manner->upright ? dwi_wide(label->at) : dwi_high(label->at);
    return long_way + 2 * LABEL_AIR <= room_long && short_way + (manner->two_lines ? LABEL_AIR : 40) <= room_short;
}

/* Sets a text whose middle is `along` and `across` off the middle of the piece, upright or not; along runs in reading direction, across
 * downward from it. */
static void set_at(struct dwi_pad *pad, const struct label *label, bool upright, dw_dot along, dw_dot across, struct dwi_type type, const char *text)
{
    const dw_dot x = (label->at.x + label->at.x2) / 2;
    const dw_dot y = (label->at.y + label->at.y2) / 2;
    const dw_dot down = across + type.size * (DWI_ASCENT - DWI_DESCENT) / 200;
    type.quarter_turns = upright ? 1 : 0;
    type.within = label->within;
    type.behind = DW_TONE_PAPER;
    dwi_text(pad, upright ? x + down : x + along, upright ? y - along : y + down, type, label->address, text);
}

static void write_label(struct dwi_pad *pad, const struct label *label, const struct manner *manner)
{
    const struct dwi_type mark = {.size = manner->mark_size, .bold = true, .anchor = DW_ANCHOR_MIDDLE, .as_it_is = true};
    const struct dwi_type size = {.size = manner->size_size, .anchor = DW_ANCHOR_MIDDLE};
    if (manner->two_lines) {
        set_at(pad, label, manner->upright, 0, -line_height(manner->size_size) / 2, mark, label->mark);
        set_at(pad, label, manner->upright, 0, line_height(manner->mark_size) / 2, size, label->size);
        return;
    }
    const dw_dot mark_width = dwi_text_width(label->mark, manner->mark_size, true);
    const dw_dot size_width = dwi_text_width(label->size, manner->size_size, false);
    const dw_dot air = manner->mark_size / 2;
    set_at(pad, label, manner->upright, -(air + size_width) / 2, 0, mark, label->mark);
    set_at(pad, label, manner->upright, (air + mark_width) / 2, 0, size, label->size);
}

static const struct manner *manner_for(const struct label *label)
{
    for (size_t m = 0; m < sizeof manners / sizeof *manners; m++)
        if (fits(label, &manners[m]))
            return &manners[m];
    return NULL;
}

/* The small pieces from the top down. */
static size_t collect_small(const struct sheet_drawing *drawing, const struct label **small)
{
    size_t count = 0;
    for (size_t i = 0; i < drawing->label_count; i++) {
        const struct label *label = &drawing->labels[i];
        if (manner_for(label) != NULL)
            continue;
        size_t at = count++;
        for (; at > 0 && small[at - 1]->at.y + small[at - 1]->at.y2 > label->at.y + label->at.y2; at--)
            small[at] = small[at - 1];
        small[at] = label;
    }
    return count;
}

/* Labels led out to the margin. Like pieces that follow one another down the sheet share one where there are too many for one each. */
struct led_label {
    const struct label *first, *last;
    size_t count;
};

static size_t led_labels_of(const struct label *const *small, size_t count, bool share, struct led_label *led)
{
    size_t used = 0;
    for (size_t i = 0; i < count; i++)
        if (share && used > 0 && strcmp(led[used - 1].first->size, small[i]->size) == 0) {
            led[used - 1].last = small[i];
            led[used - 1].count++;
        } else {
            led[used++] = (struct led_label){small[i], small[i], 1};
        }
    return used;
}

static void draw_leader(struct dwi_pad *pad, const struct label *label, dw_dot edge, dw_dot center)
{
    const dw_dot y = (label->at.y + label->at.y2) / 2;
    const dw_dot x = label->at.x2 - (dwi_wide(label->at) < 600 ? dwi_wide(label->at) / 2 : 300);
    const dw_dot points[] = {x, y, edge + 400, y, edge + 1300, center};
    dwi_polyline(pad, points, 3, DWI_FINE, DW_TONE_INK);
    dwi_circle(pad, x, y, 110, 0, DW_TONE_NONE, DW_TONE_INK);
}

static void write_led(struct dwi_pad *pad, const struct led_label *led, dw_dot x, dw_dot y, dw_dot most)
{
    const char *mark = led->count == 1 ? led->first->mark : dw_arena_format(pad->arena, "%s \xE2\x80\xA6 %s", led->first->mark, led->last->mark);
    const char *size = led->count == 1 ? led->first->size : dw_arena_format(pad->arena, "%zu of %s", led->count, led->first->size);
    const dw_dot taken = dwi_text(pad, x, y, (struct dwi_type){.size = DWI_NOTE, .bold = true, .as_it_is = true, .most = most}, led->first->address, mark);
    if (taken + 2000 < most)
        dwi_text(pad, x + taken + 350, y, (struct dwi_type){.size = DWI_NOTE, .most = most - taken - 350}, led->first->address, size);
}

static void draw_leaders(struct sheet_drawing *drawing, const struct label *const *small, size_t count, struct dwi_area sheet, struct dwi_area room)
{
    struct dwi_pad *pad = drawing->pad;
    const size_t most = (size_t)(dwi_high(room) / LABEL_ROW);
    struct led_label *led = dw_arena_alloc(pad->arena, count, sizeof *led);
    size_t shown = led_labels_of(small, count, count > most, led);
    if (shown > most)
        shown = most; /* the parts list has the others */
    dw_dot *centers = dw_arena_alloc(pad->arena, shown, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(pad->arena, shown, sizeof *sizes);
    for (size_t i = 0; i < shown; i++) {
        centers[i] = (led[i].first->at.y + led[i].first->at.y2) / 2;
        sizes[i] = LABEL_ROW;
    }
    (void)dwi_spread(pad->arena, centers, sizes, shown, room.y, room.y2);
    for (size_t i = 0; i < shown; i++)
        draw_leader(pad, led[i].first, sheet.x2, centers[i]);
    for (size_t i = 0; i < shown; i++)
        write_led(pad, &led[i], sheet.x2 + 1500, centers[i] + DWI_NOTE * DWI_CAP / 200, room.x2 - sheet.x2 - 1500);
}

static void draw_labels(struct sheet_drawing *drawing, struct dwi_area sheet, struct dwi_area room)
{
    for (size_t i = 0; i < drawing->label_count; i++)
        drawing->labels[i].size = dwi_typeset(drawing->pad->arena, drawing->labels[i].size);
    const struct label **small = dw_arena_alloc(drawing->pad->arena, drawing->label_count, sizeof *small);
    const size_t count = collect_small(drawing, small);
    draw_leaders(drawing, small, count, sheet, room);
    for (size_t i = 0; i < drawing->label_count; i++) {
        const struct manner *manner = manner_for(&drawing->labels[i]);
        if (manner != NULL)
            write_label(drawing->pad, &drawing->labels[i], manner);
    }
}

/* ---- along the edges -------------------------------------------------------------------------------------- */

/* The settings of the first cuts: the sizes of the pieces that come off the sheet, along the edge they are measured on. */
static void draw_settings(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    const struct dw_layout_node *root = &drawing->sheet->root;
    struct dwi_pad *pad = drawing->pad;
    if (root->use != DW_NODE_CUT)
        return;
    const bool level = root->cut == DW_CROSSCUT;
    struct dwi_span *spans = dw_arena_alloc(pad->arena, root->piece_count, sizeof *spans);
    size_t count = 0;
    for (size_t i = 0; i < root->piece_count; i++) {
        const struct dw_layout_node *piece = &root->pieces[i];
        if (piece->use == DW_NODE_WASTE)
            continue;
        const struct dwi_area at = dwi_view_area(&drawing->view, piece->x, piece->y, piece->length, piece->width);
        const struct dwi_span span = {.from = level ? at.x : at.y, .to = level ? at.x2 : at.y2, .address = "",
                                      .text = dwi_length(pad->arena, drawing->job, level ? piece->length : piece->width)};
        size_t place = count++;
        for (; place > 0 && spans[place - 1].from > span.from; place--)
            spans[place] = spans[place - 1];
        spans[place] = span;
    }
    struct dwi_chain chain = {.spans = spans, .count = count, .side = -1};
    if (level) {
        chain.at = sheet.y - 2600;
        chain.object = sheet.y - 200;
        chain.low = sheet.x - 2000;
        chain.high = sheet.x2 + 2000;
        dwi_chain_level(pad, &chain);
    } else {
        chain.at = sheet.x - 3700;
        chain.object = sheet.x - 200;
        chain.low = sheet.y - 600;
        chain.high = sheet.y2 + 1200;
        dwi_chain_upright(pad, &chain);
    }
}

/* The first cuts, each with its rung on the ladder in a circle at the edge it starts from. */
static void draw_numbers(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    struct dwi_pad *pad = drawing->pad;
    const struct dwi_first_cuts cuts = dwi_first_cuts_of(pad->arena, drawing->layout, (size_t)(drawing->sheet - drawing->layout->sheets));
    dw_dot *centers = dw_arena_alloc(pad->arena, cuts.count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(pad->arena, cuts.count, sizeof *sizes);
    for (int pass = 0; pass < 2; pass++) {
        const enum dw_cut kind = pass == 0 ? DW_RIP : DW_CROSSCUT;
        size_t count = 0;
        for (size_t i = 0; i < cuts.count; i++)
            if (cuts.at[i].cut == kind) {
                centers[count] = kind == DW_RIP ? dwi_y(&drawing->view, cuts.at[i].place) : dwi_x(&drawing->view, cuts.at[i].place);
                sizes[count++] = 1250;
            }
        const bool spread = kind == DW_RIP ? dwi_spread(pad->arena, centers, sizes, count, sheet.y - 700, sheet.y2 + 700)
                                           : dwi_spread(pad->arena, centers, sizes, count, sheet.x - 700, sheet.x2 + 700);
        size_t at = 0;
        for (size_t i = 0; i < cuts.count && spread; i++) {
            if (cuts.at[i].cut != kind)
                continue;
            const dw_dot place = kind == DW_RIP ? dwi_y(&drawing->view, cuts.at[i].place) : dwi_x(&drawing->view, cuts.at[i].place);
            const dw_dot x = kind == DW_RIP ? sheet.x - 800 : centers[at];
            const dw_dot y = kind == DW_RIP ? centers[at] : sheet.y - 800;
            dwi_line(pad, kind == DW_RIP ? sheet.x : place, kind == DW_RIP ? place : sheet.y, x, y, DWI_FINE, DW_TONE_WARM);
            dwi_circle(pad, x, y, 600, DWI_FINE, DW_TONE_WARM, DW_TONE_PAPER);
            dwi_text(pad, x, y + 720 * DWI_CAP / 200, (struct dwi_type){.size = 720, .bold = true, .anchor = DW_ANCHOR_MIDDLE}, "",
                     dw_arena_format(pad->arena, "%d", cuts.at[i].rung));
            at++;
        }
    }
}

/* "grain along 96" on a line with heads, under the sheet or beside it. */
static void draw_grain(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    struct dwi_pad *pad = drawing->pad;
    const dw_dot y = sheet.y2 + 1500;
    const dw_length along = drawing->source->grain_across ? drawing->source->width : drawing->source->length;
    const char *words = drawing->material->grained ? dw_arena_format(pad->arena, "grain along %s", dwi_length(pad->arena, drawing->job, along)) : "no grain to keep";
    const dw_dot middle = (sheet.x + sheet.x2) / 2;
    if (drawing->material->grained && !drawing->source->grain_across) {
        dwi_line(pad, sheet.x, y, sheet.x2, y, DWI_FINE, DW_TONE_INK);
        dwi_line(pad, sheet.x, y, sheet.x + 700, y - 250, DWI_FINE, DW_TONE_INK);
        dwi_line(pad, sheet.x2, y, sheet.x2 - 700, y + 250, DWI_FINE, DW_TONE_INK);
    }
    dwi_text(pad, middle, y + DWI_BODY * DWI_CAP / 200, (struct dwi_type){.bold = true, .anchor = DW_ANCHOR_MIDDLE, .behind = DW_TONE_PAPER}, "", words);
    if (drawing->material->grained && drawing->source->grain_across) {
        const dw_dot x = sheet.x2 + 700;
        dwi_line(pad, x, sheet.y, x, sheet.y2, DWI_FINE, DW_TONE_INK);
        dwi_line(pad, x, sheet.y, x - 250, sheet.y + 700, DWI_FINE, DW_TONE_INK);
        dwi_line(pad, x, sheet.y2, x + 250, sheet.y2 - 700, DWI_FINE, DW_TONE_INK);
    }
}

/* What is to know of the sheet, in one or two lines. */
static void draw_notes(struct sheet_drawing *drawing, struct dwi_area room, dw_dot y)
{
    struct dw_arena *arena = drawing->pad->arena;
    const struct dw_sheet_source *source = drawing->source;
    struct dw_text alike = dw_text_in(arena);
    for (size_t s = 0; s < drawing->layout->sheet_count; s++)
        if (drawing->layout->sheets[s].like == drawing->sheet->like && &drawing->layout->sheets[s] != drawing->sheet)
            dw_text_addf(&alike, "%s%s", alike.length == 0 ? "" : ", ", drawing->layout->sheets[s].name);
    struct dw_text text = dw_text_in(arena);
    dw_text_addf(&text, "%s, %s, measures %s. Kerf %s, the dark lines. ", size_words(drawing, source->length, source->width),
                 source->owned ? dw_arena_format(arena, "from the rack: %s", source->id) : source->supplier[0] == '\0' ? "as bought" : source->supplier,
                 dwi_length(arena, drawing->job, drawing->material->thickness), dwi_length(arena, drawing->job, drawing->layout->problem->request.kerf));
    dw_text_add(&text, "Circled numbers are rungs of the cut ladder. Hatched pieces are kept, shaded ones are waste. ");
    if (alike.length > 0)
        dw_text_addf(&text, "Cut %s in the same way. ", alike.bytes);
    if (drawing->sheet->tight)
        dw_text_add(&text, "Uses the sheet to the last of its size: measure the sheet before the first cut.");
    dwi_paragraph(drawing->pad, room.x, y, (struct dwi_type){.most = dwi_wide(room)}, "", text.bytes);
}

/* The largest view of the sheet that leaves so much room at its right. */
static struct dwi_view view_with(const struct dw_sheet_source *source, struct dwi_area room, dw_dot right)
{
    const dw_dot wide = dwi_wide(room) - LEFT_ROOM - right;
    const dw_dot high = dwi_high(room) - TOP_ROOM - BOTTOM_ROOM;
    const int64_t scale = dwi_scale_for(source->length, source->width, wide, high);
    return (struct dwi_view){.x = room.x + LEFT_ROOM, .y = room.y + TOP_ROOM + dwi_dots(source->width, scale), .scale = scale, .y_up = true};
}

/* Is there a part or an offcut too small for its label? */
static bool any_small(struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        if (any_small(drawing, &node->pieces[i]))
            return true;
    if (node->use != DW_NODE_PART && node->use != DW_NODE_KEEP)
        return false;
    struct label label = label_of(drawing, node);
    label.size = dwi_typeset(drawing->pad->arena, label.size);
    return manner_for(&label) == NULL;
}

void dwi_draw_sheet(struct dwi_pad *pad, const struct dwi_sheet *of, struct dwi_area room)
{
    struct sheet_drawing drawing = drawing_of(pad, of);
    const struct dw_sheet_source *source = drawing.source;
    const struct dw_layout_node *root = &drawing.sheet->root;
    drawing.view = view_with(source, room, RIGHT_ROOM);
    if (any_small(&drawing, root))
        drawing.view = view_with(source, room, LEADER_ROOM);
    const struct dwi_area sheet = dwi_view_area(&drawing.view, 0, 0, source->length, source->width);
    dwi_rectangle(pad, sheet, DWI_BOLD, DW_TONE_INK, DW_TONE_PALE, "");
    dwi_rectangle(pad, dwi_view_area(&drawing.view, root->x, root->y, root->length, root->width), 0, DW_TONE_NONE, DW_TONE_INK, "");
    draw_node(&drawing, root);
    draw_labels(&drawing, sheet, (struct dwi_area){room.x, room.y + 1500, room.x2, sheet.y2 + 1000});
    draw_settings(&drawing, sheet);
    draw_numbers(&drawing, sheet);
    draw_grain(&drawing, sheet);
    draw_notes(&drawing, room, sheet.y2 + 3600);
    dwi_text(pad, room.x2, room.y + DWI_NOTE, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .anchor = DW_ANCHOR_END}, "",
             dw_arena_format(pad->arena, "1 : %lld", (long long)drawing.view.scale));
}
