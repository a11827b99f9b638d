/* sheetdraw.c - a sheet as it is cut: parts with mark and size, kerfs, settings along the edges, first cuts numbered, offcuts hatched, waste plain.
 *
 * The sheet is painted in ink and every piece is laid on it, so that what stays dark is what the blade takes, to scale. Labels are
 * sheetlabel.c's matter.
 */
#include "sheetdraw.h"

#include <assert.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "cuts.h"
#include "dimension.h"
#include "sheetlabel.h"

enum {
    LEFT_ROOM = 6400,    /* the chain of rips and their numbers */
    TOP_ROOM = 4600,     /* likewise of crosscuts */
    RIGHT_ROOM = 1400,   /* nothing, unless labels are led out */
    BOTTOM_ROOM = 6800,  /* grain, and what is to know */
    MARGINS_MOST = 75,   /* percent of the breadth that labels led out may take together */
    NUMBER_RADIUS = 600,
    NAME_AIR = 150,      /* at both ends of a strip's name */
    EDGE = 20,           /* of a piece, so that a viewer cannot swallow a kerf */
    GRAIN_STEP = 500,
    HATCH_STEP = 450
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
    struct dwi_label *labels;
    size_t label_count, label_capacity;
    struct dwi_areas open;    /* waste */
    struct dwi_areas numbers; /* the circled ones */
    struct dwi_sheet_cuts cuts;
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
        .cuts = dwi_sheet_cuts_of(pad->arena, layout, of->sheet),
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

static void add_label(struct sheet_drawing *drawing, struct dwi_label label)
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
    return dwi_typeset(arena, dw_arena_format(arena, "%s \xC3\x97 %s", dwi_length(arena, drawing->job, length), dwi_length(arena, drawing->job, width)));
}

/* What is written on a part or an offcut to keep. */
static struct dwi_label label_of(const struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    struct dwi_label label = {.at = dwi_view_area(&drawing->view, node->x, node->y, node->length, node->width), .mark = node->mark, .address = ""};
    if (node->use == DW_NODE_KEEP) {
        label.mark = dw_arena_format(drawing->pad->arena, "keep %s", node->mark);
        label.size = size_words(drawing, node->length, node->width);
        return label;
    }
    const struct dw_part *part = &drawing->layouts->jobs[node->piece.job]->at[node->piece.part];
    label.size = size_words(drawing, part->length.value, part->width.value);
    label.address = address_of(drawing, node->piece);
    label.part = part;
    label.number = node->piece.piece;
    return label;
}

static void collect_labels(struct sheet_drawing *drawing, const struct dw_layout_node *node)
{
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        collect_labels(drawing, &node->pieces[i]);
    if (node->use == DW_NODE_PART || node->use == DW_NODE_KEEP)
        add_label(drawing, label_of(drawing, node));
    if (node->use == DW_NODE_WASTE)
        dwi_add_area(drawing->pad->arena, &drawing->open, dwi_view_area(&drawing->view, node->x, node->y, node->length, node->width));
}

/* Draws a part or an offcut; its label, the next in order, learns what it has to stay within. */
static void draw_piece(struct sheet_drawing *drawing, const struct dw_layout_node *node, size_t *next)
{
    assert(drawing->labels != NULL); /* this piece is among those labeled */
    struct dwi_pad *pad = drawing->pad;
    struct dwi_label *label = &drawing->labels[(*next)++];
    const struct dwi_area inner = {label->at.x + 100, label->at.y + 100, label->at.x2 - 100, label->at.y2 - 100};
    label->within = dwi_rectangle(pad, label->at, EDGE, DW_TONE_INK, DW_TONE_PAPER, label->address);
    if (node->use == DW_NODE_KEEP)
        dwi_hatch(pad, inner, DWI_SLANTED, HATCH_STEP, DWI_HAIR, DW_TONE_GRAY);
    else if (drawing->material->grained)
        dwi_hatch(pad, inner, drawing->source->grain_across ? DWI_ALONG_Y : DWI_ALONG_X, GRAIN_STEP, 20, DW_TONE_PALE);
}

/* What is over beside a rough cut is waste; the blade runs in its middle. */
static void draw_rough_cut(struct sheet_drawing *drawing, const struct dw_layout_node *node, const struct dw_layout_node *piece)
{
    const bool rip = node->cut == DW_RIP;
    const dw_length over = drawing->job->shop.habits.rough_over, at = rip ? piece->y + piece->width : piece->x + piece->length;
    for (int side = 0; side < 2; side++) {
        const dw_length from = side == 0 ? at : at + piece->after - over;
        const struct dwi_area band = rip ? dwi_view_area(&drawing->view, node->x, from, node->length, over)
                                         : dwi_view_area(&drawing->view, from, node->y, over, node->width);
        dwi_rectangle(drawing->pad, band, 0, DW_TONE_NONE, DW_TONE_PALE, "");
    }
}

static void draw_pieces(struct sheet_drawing *drawing, const struct dw_layout_node *node, size_t *next)
{
    switch (node->use) {
    case DW_NODE_CUT:
        for (size_t i = 0; i < node->piece_count; i++) {
            draw_pieces(drawing, &node->pieces[i], next);
            if (node->rough && i + 1 < node->piece_count)
                draw_rough_cut(drawing, node, &node->pieces[i]);
        }
        break;
    case DW_NODE_PART:
    case DW_NODE_KEEP:
        draw_piece(drawing, node, next);
        break;
    case DW_NODE_WASTE:
        dwi_rectangle(drawing->pad, dwi_view_area(&drawing->view, node->x, node->y, node->length, node->width), 0, DW_TONE_NONE, DW_TONE_PALE, "");
        break;
    }
}

/* Edges that are not to be used are crossed out, so that nobody starts from them. */
static void draw_unused(struct sheet_drawing *drawing)
{
    const struct dw_sheet_source *source = drawing->source;
    const dw_length *trim = source->trim;
    const struct {
        dw_length x, y, length, width;
    } bands[] = {{0, 0, trim[0], source->width},
                 {source->length - trim[1], 0, trim[1], source->width},
                 {0, 0, source->length, trim[2]},
                 {0, source->width - trim[3], source->length, trim[3]}};
    for (size_t i = 0; source->owned && i < sizeof bands / sizeof *bands; i++) {
        if (trim[i] <= drawing->job->shop.habits.trim)
            continue;
        const struct dwi_area at = dwi_view_area(&drawing->view, bands[i].x, bands[i].y, bands[i].length, bands[i].width);
        dwi_line(drawing->pad, at.x, at.y, at.x2, at.y2, DWI_FINE, DW_TONE_INK);
        dwi_line(drawing->pad, at.x, at.y2, at.x2, at.y, DWI_FINE, DW_TONE_INK);
    }
}

/* ---- along the edges -------------------------------------------------------------------------------------- */

static size_t most_spans(const struct dw_layout_node *node)
{
    size_t count = node->piece_count;
    for (size_t i = 0; node->rough && i < node->piece_count; i++)
        count += most_spans(&node->pieces[i]);
    return count;
}

/* The pieces that come off by cuts of the first kind, those of panels that are cut off roughly too, in the order in which they lie. */
static size_t add_spans(const struct sheet_drawing *drawing, const struct dw_layout_node *node, struct dwi_span *spans, size_t count)
{
    const bool level = drawing->sheet->root.cut == DW_CROSSCUT;
    for (size_t i = 0; i < node->piece_count; i++) {
        const struct dw_layout_node *piece = &node->pieces[i];
        if (piece->use == DW_NODE_WASTE)
            continue;
        if (node->rough && piece->use == DW_NODE_CUT && piece->cut == node->cut) {
            count = add_spans(drawing, piece, spans, count);
            continue;
        }
        const struct dwi_area at = dwi_view_area(&drawing->view, piece->x, piece->y, piece->length, piece->width);
        const struct dwi_span span = {.from = level ? at.x : at.y, .to = level ? at.x2 : at.y2, .address = "",
                                      .text = dwi_length(drawing->pad->arena, drawing->job, level ? piece->length : piece->width)};
        size_t place = count++;
        for (; place > 0 && spans[place - 1].from > span.from; place--)
            spans[place] = spans[place - 1];
        spans[place] = span;
    }
    return count;
}

/* The settings of the first cuts: the sizes of the pieces that come off the sheet, along the edge they are measured on. */
static void draw_settings(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    const struct dw_layout_node *root = &drawing->sheet->root;
    struct dwi_pad *pad = drawing->pad;
    if (root->use != DW_NODE_CUT)
        return;
    const bool level = root->cut == DW_CROSSCUT;
    struct dwi_span *spans = dw_arena_alloc(pad->arena, most_spans(root), sizeof *spans);
    const size_t count = add_spans(drawing, root, spans, 0);
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

/* A first cut on the page: where it meets the edge. */
struct edge_cut {
    dw_dot at;
    int rung;
};

/* The first cuts of one kind, in the order in which they lie along the edge. */
static size_t edge_cuts_of(const struct sheet_drawing *drawing, enum dw_cut kind, struct edge_cut *found)
{
    size_t count = 0;
    for (size_t i = 0; i < drawing->cuts.first_count; i++) {
        const struct dwi_first_cut *cut = &drawing->cuts.first[i];
        if (cut->cut != kind)
            continue;
        const dw_dot at = kind == DW_RIP ? dwi_y(&drawing->view, cut->place) : dwi_x(&drawing->view, cut->place);
        size_t place = count++;
        for (; place > 0 && found[place - 1].at > at; place--)
            found[place] = found[place - 1];
        found[place] = (struct edge_cut){at, cut->rung};
    }
    return count;
}

/* Of neighbors on one rung the first alone. */
static size_t thin_out(struct edge_cut *found, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || found[kept - 1].rung != found[i].rung)
            found[kept++] = found[i];
    return kept;
}

static void draw_circled(struct sheet_drawing *drawing, dw_dot x, dw_dot y, int number)
{
    struct dwi_pad *pad = drawing->pad;
    dwi_circle(pad, x, y, NUMBER_RADIUS, DWI_FINE, DW_TONE_WARM, DW_TONE_PAPER);
    dwi_text(pad, x, y + DWI_TINY * DWI_CAP / 200, (struct dwi_type){.size = DWI_TINY, .bold = true, .anchor = DW_ANCHOR_MIDDLE}, "",
             dw_arena_format(pad->arena, "%d", number));
    dwi_add_area(pad->arena, &drawing->numbers, (struct dwi_area){x - NUMBER_RADIUS, y - NUMBER_RADIUS, x + NUMBER_RADIUS, y + NUMBER_RADIUS});
}

static void draw_number(struct sheet_drawing *drawing, bool rip, struct dwi_area sheet, const struct edge_cut *cut, dw_dot center)
{
    const dw_dot x = rip ? sheet.x - 800 : center;
    const dw_dot y = rip ? center : sheet.y - 800;
    dwi_line(drawing->pad, rip ? sheet.x : cut->at, rip ? cut->at : sheet.y, x, y, DWI_FINE, DW_TONE_WARM);
    draw_circled(drawing, x, y, cut->rung);
}

/* The first cuts, each with its rung on the ladder in a circle at the edge it starts from; where they crowd, those of one rung share one. */
static void draw_numbers(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    struct dw_arena *arena = drawing->pad->arena;
    struct edge_cut *found = dw_arena_alloc(arena, drawing->cuts.first_count, sizeof *found);
    dw_dot *centers = dw_arena_alloc(arena, drawing->cuts.first_count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(arena, drawing->cuts.first_count, sizeof *sizes);
    for (int pass = 0; pass < 2; pass++) {
        const bool rip = pass == 0;
        size_t count = edge_cuts_of(drawing, rip ? DW_RIP : DW_CROSSCUT, found);
        bool fits = false;
        for (int tries = 0; tries < 2 && !fits; tries++) {
            for (size_t i = 0; i < count; i++) {
                centers[i] = found[i].at;
                sizes[i] = 1250;
            }
            fits = dwi_spread(arena, centers, sizes, count, (rip ? sheet.y : sheet.x) - 700, (rip ? sheet.y2 : sheet.x2) + 700);
            if (!fits)
                count = thin_out(found, count);
        }
        for (size_t i = 0; i < count && fits; i++)
            draw_number(drawing, rip, sheet, &found[i], centers[i]);
    }
}

/* The later cuts likewise, on the cut itself: near its start, or the first place along it that covers no label and no other number. A cut too
 * crowded for that goes without; the marks beside it stand on the ladder. */
static void draw_later_numbers(struct sheet_drawing *drawing, const struct dwi_areas *texts)
{
    enum { FROM_END = 950, ALONG = 300, RADIUS = NUMBER_RADIUS + 50 };
    for (size_t i = 0; i < drawing->cuts.later_count; i++) {
        const struct dwi_later_cut *cut = &drawing->cuts.later[i];
        const bool rip = cut->cut == DW_RIP;
        const dw_dot length = dwi_dots(cut->length, drawing->view.scale);
        for (dw_dot along = FROM_END; along <= length - FROM_END; along += ALONG) {
            const dw_dot x = dwi_x(&drawing->view, cut->x) + (rip ? along : 0);
            const dw_dot y = dwi_y(&drawing->view, cut->y) - (rip ? 0 : along);
            const struct dwi_area at = {x - RADIUS, y - RADIUS, x + RADIUS, y + RADIUS};
            if (dwi_meets_any(texts, at) || dwi_meets_any(&drawing->numbers, at))
                continue;
            draw_circled(drawing, x, y, cut->rung);
            break;
        }
    }
}

/* Each strip's name beside its edge, where the circled numbers leave it room. */
static void draw_strip_names(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    struct dwi_pad *pad = drawing->pad;
    const bool level = drawing->sheet->root.cut == DW_CROSSCUT;
    const struct dwi_type type = {.size = DWI_NOTE, .ink = DW_TONE_GRAY, .anchor = DW_ANCHOR_MIDDLE, .quarter_turns = level ? 0 : 1, .as_it_is = true};
    for (size_t i = 0; i < drawing->cuts.strip_count; i++) {
        const struct dwi_strip *strip = &drawing->cuts.strips[i];
        const struct dwi_area at = dwi_view_area(&drawing->view, strip->x, strip->y, strip->length, strip->width);
        const dw_dot half = dwi_text_width(strip->name, DWI_NOTE, false) / 2 + NAME_AIR;
        const dw_dot middle = level ? (at.x + at.x2) / 2 : (at.y + at.y2) / 2;
        const struct dwi_area room = level ? (struct dwi_area){middle - half, sheet.y - 1300, middle + half, sheet.y - 200}
                                           : (struct dwi_area){sheet.x - 1300, middle - half, sheet.x - 200, middle + half};
        if (2 * half <= (level ? dwi_wide(at) : dwi_high(at)) && !dwi_meets_any(&drawing->numbers, room))
            dwi_text(pad, level ? middle : sheet.x - 450, level ? sheet.y - 450 : middle, type, "", strip->name);
    }
}

/* "grain along 96" on a line with heads, under the sheet or beside it. */
static void draw_grain(struct sheet_drawing *drawing, struct dwi_area sheet)
{
    struct dwi_pad *pad = drawing->pad;
    const dw_dot y = sheet.y2 + 1500;
    const dw_length along = drawing->source->grain_across ? drawing->source->width : drawing->source->length;
    const char *words = drawing->material->grained ? dw_arena_format(pad->arena, "grain along %s", dwi_sold_length(pad->arena, drawing->job, along)) : "no grain to keep";
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

/* Where a sheet comes from; the id of what an earlier plan left leads with that plan's mark. */
static const char *origin_words(struct dw_arena *arena, const struct dw_sheet_source *source)
{
    if (source->owned)
        return dw_arena_format(arena, strchr(source->id, '/') != NULL ? "left of plan %s" : "from the rack: %s", source->id);
    return source->supplier[0] == '\0' ? "as bought" : source->supplier;
}

/* "2 1/2 at the left": the edges of an owned sheet of which more than a factory edge is not to be used, as the sheet is drawn. */
static const char *unused_edges(const struct sheet_drawing *drawing)
{
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    struct dw_text text = dw_text_in(drawing->pad->arena);
    for (size_t i = 0; drawing->source->owned && i < sizeof edges / sizeof *edges; i++)
        if (drawing->source->trim[i] > drawing->job->shop.habits.trim)
            dw_text_addf(&text, "%s%s at the %s", text.length == 0 ? "" : ", ", dwi_length_unit(text.arena, drawing->job, drawing->source->trim[i]), edges[i]);
    return text.bytes;
}

static const char *sheets_alike(const struct sheet_drawing *drawing)
{
    struct dw_text alike = dw_text_in(drawing->pad->arena);
    for (size_t s = 0; s < drawing->layout->sheet_count; s++)
        if (drawing->layout->sheets[s].like == drawing->sheet->like && &drawing->layout->sheets[s] != drawing->sheet)
            dw_text_addf(&alike, "%s%s", alike.length == 0 ? "" : ", ", drawing->layout->sheets[s].name);
    return alike.bytes;
}

/* What is to know of the sheet, in a few lines. That the show face lies up on a table saw is common practice, no source. */
static void draw_notes(struct sheet_drawing *drawing, struct dwi_area room, dw_dot y, const struct dwi_sheet_labels *labels)
{
    struct dw_arena *arena = drawing->pad->arena;
    const struct dw_sheet_source *source = drawing->source;
    const char *alike = sheets_alike(drawing);
    const char *unused = unused_edges(drawing);
    struct dw_text text = dw_text_in(arena);
    dw_text_addf(&text, "%s \xC3\x97 %s, %s, measures %s. Drawn from the show face, which lies up on a table saw. ",
                 dwi_sold_length(arena, drawing->job, source->length), dwi_sold_length(arena, drawing->job, source->width), origin_words(arena, source),
                 dwi_sold_length(arena, drawing->job, drawing->material->thickness));
    if (alike[0] != '\0')
        dw_text_addf(&text, "Cut %s in the same way. ", alike);
    if (unused[0] != '\0')
        dw_text_addf(&text, "Not used, a damaged edge: %s. ", unused);
    if (drawing->sheet->broken != DW_SHEET_WHOLE)
        dw_text_addf(&text, "Rough cuts%s come first; the %s over on both sides of them is trimmed off. ",
                     drawing->sheet->broken == DW_SHEET_YARD ? " at the yard" : "", dwi_length(arena, drawing->job, drawing->job->shop.habits.rough_over));
    if (source->note[0] != '\0')
        dw_text_addf(&text, "Noted: %s. ", source->note);
    if (drawing->sheet->tight)
        dw_text_add(&text, "Uses the sheet to the last of its size: measure the sheet before the first cut. ");
    const size_t unlabeled = labels->leaders.missing;
    if (labels->marked > 0)
        dw_text_addf(&text, "%zu small piece%s their mark alone: sizes stand in the parts. ", labels->marked, labels->marked == 1 ? " bears" : "s bear");
    if (unlabeled > 0)
        dw_text_addf(&text, "%zu small piece%s without a label: see the parts. ", unlabeled, unlabeled == 1 ? "" : "s");
    dw_text_addf(&text, "Kerf %s, the dark lines. Circled numbers are rungs of the cut ladder, names beside the edge its strips. Hatched pieces are kept, shaded "
                 "ones are waste.", dwi_sold_length(arena, drawing->job, drawing->layout->problem->request.kerf));
    dwi_paragraph(drawing->pad, room.x, y, (struct dwi_type){.most = dwi_wide(room)}, "", text.bytes);
}

/* The largest view of the sheet that leaves so much room at its left and right. */
static struct dwi_view view_with(const struct dw_sheet_source *source, struct dwi_area room, dw_dot left, dw_dot right)
{
    const dw_dot wide = dwi_wide(room) - left - right;
    const dw_dot high = dwi_high(room) - TOP_ROOM - BOTTOM_ROOM;
    const int64_t scale = dwi_scale_for(source->length, source->width, wide, high);
    return (struct dwi_view){.x = room.x + left, .y = room.y + TOP_ROOM + dwi_dots(source->width, scale), .scale = scale, .y_up = true};
}

static struct dwi_area sheet_area(const struct sheet_drawing *drawing)
{
    return dwi_view_area(&drawing->view, 0, 0, drawing->source->length, drawing->source->width);
}

/* The left margin belongs to the chain of a sheet that is ripped first, and to the numbers of rips. */
static bool is_left_free(const struct sheet_drawing *drawing)
{
    for (size_t i = 0; i < drawing->cuts.first_count; i++)
        if (drawing->cuts.first[i].cut == DW_RIP)
            return false;
    return drawing->sheet->root.cut == DW_CROSSCUT;
}

static struct dwi_sheet_labels place_labels(const struct sheet_drawing *drawing)
{
    const struct dwi_leading leading = {.sheet = sheet_area(drawing), .open = drawing->open, .left_free = is_left_free(drawing)};
    return dwi_place_labels(drawing->pad->arena, drawing->labels, drawing->label_count, &leading);
}

/* The largest view in which all labels find room, with or without leaders. A smaller view may lead more and wider labels out, which then want more
 * room. */
static void choose_view(struct sheet_drawing *drawing, struct dwi_area room)
{
    dw_dot left = LEFT_ROOM;
    dw_dot right = RIGHT_ROOM;
    for (bool grown = true; grown;) {
        drawing->label_count = drawing->open.count = 0;
        drawing->view = view_with(drawing->source, room, left, right);
        collect_labels(drawing, &drawing->sheet->root);
        const struct dwi_sheet_labels labels = place_labels(drawing);
        const dw_dot more_left = labels.leaders.room[0] > left ? labels.leaders.room[0] : left;
        const dw_dot more_right = labels.leaders.room[1] > right ? labels.leaders.room[1] : right;
        grown = more_left + more_right > left + right && more_left + more_right < dwi_wide(room) * MARGINS_MOST / 100;
        left = more_left;
        right = more_right;
    }
}

void dwi_draw_sheet(struct dwi_pad *pad, const struct dwi_sheet *of, struct dwi_area room)
{
    struct sheet_drawing drawing = drawing_of(pad, of);
    const struct dw_layout_node *root = &drawing.sheet->root;
    size_t next = 0;
    choose_view(&drawing, room);
    const struct dwi_area sheet = sheet_area(&drawing);
    dwi_rectangle(pad, sheet, DWI_BOLD, DW_TONE_INK, DW_TONE_PALE, "");
    dwi_rectangle(pad, dwi_view_area(&drawing.view, root->x, root->y, root->length, root->width), 0, DW_TONE_NONE, DW_TONE_INK, "");
    draw_pieces(&drawing, root, &next);
    draw_unused(&drawing);
    struct dwi_sheet_labels labels = place_labels(&drawing);
    dwi_write_labels(pad, &labels, sheet, room);
    draw_settings(&drawing, sheet);
    draw_numbers(&drawing, sheet);
    draw_later_numbers(&drawing, &labels.texts);
    draw_strip_names(&drawing, sheet);
    draw_grain(&drawing, sheet);
    draw_notes(&drawing, room, sheet.y2 + 3600, &labels);
    dwi_text(pad, room.x2, room.y + DWI_NOTE, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .anchor = DW_ANCHOR_END}, "",
             dw_arena_format(pad->arena, "1 : %lld", (long long)drawing.view.scale));
}
