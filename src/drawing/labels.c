/* labels.c - a label for every piece, in the order in which the pieces come off the saw: its mark large, what it is, its size, where it goes, the edges
 * to band, and the plan's mark. On sheets of adhesive labels by their measures, or on plain paper with lines to cut along.
 */
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "packet.h"

enum { PLAIN_COLUMNS = 3, PLAIN_ROWS = 8, AIR = 500 };

/* Standing paper; plain paper is shared out evenly inside the margin. */
struct dw_label_sheet dwi_label_sheet_of(const struct dw_packet_options *options)
{
    const dw_length width = options->paper == DW_A4 ? 210 * DW_MM : 17 * DW_INCH / 2;
    const dw_length height = options->paper == DW_A4 ? 297 * DW_MM : 11 * DW_INCH;
    const dw_length margin = DW_INCH / 2;
    struct dw_label_sheet sheet = options->label_sheet;
    if (sheet.columns != 0 || sheet.rows != 0)
        return sheet;
    sheet = (struct dw_label_sheet){.left = margin, .top = margin, .columns = PLAIN_COLUMNS, .rows = PLAIN_ROWS};
    sheet.width = sheet.across = (width - 2 * margin) / PLAIN_COLUMNS;
    sheet.height = sheet.down = (height - 2 * margin) / PLAIN_ROWS;
    return sheet;
}

struct labeling {
    struct dwi_packet *packet;
    struct dw_label_sheet sheet;
    bool plain;
    struct dwi_pad *pad;
    int at; /* the next label on the page */
};

static struct dwi_area next_place(struct labeling *labeling)
{
    const struct dw_label_sheet *sheet = &labeling->sheet;
    struct dwi_packet *packet = labeling->packet;
    if (labeling->pad == NULL || labeling->at == sheet->columns * sheet->rows) {
        labeling->pad = dwi_bare_page(packet, "Labels");
        labeling->at = 0;
    }
    const int column = labeling->at % sheet->columns;
    const int row = labeling->at / sheet->columns;
    labeling->at++;
    const dw_dot x = dwi_dots(sheet->left + column * sheet->across, 1);
    const dw_dot y = dwi_dots(sheet->top + row * sheet->down, 1);
    return (struct dwi_area){x, y, x + dwi_dots(sheet->width, 1), y + dwi_dots(sheet->height, 1)};
}

static void draw_label(struct labeling *labeling, const struct dw_label *label)
{
    const struct dwi_area at = next_place(labeling);
    const dw_dot most = dwi_wide(at) - 2 * AIR;
    const dw_dot x = at.x + AIR;
    struct dwi_pad *pad = labeling->pad;
    size_t within = 0;
    if (labeling->plain)
        within = dwi_rectangle(pad, at, DWI_HAIR, DW_TONE_GRAY, DW_TONE_NONE, "");
    dw_dot y = at.y + AIR + 1500 * DWI_CAP / 100;
    dwi_text(pad, x, y, (struct dwi_type){.size = 1500, .bold = true, .most = most, .within = within, .as_it_is = true}, "", label->mark);
    dwi_text(pad, x, y += 1400, (struct dwi_type){.most = most, .within = within}, "", label->what);
    dwi_text(pad, x, y += 1250, (struct dwi_type){.most = most, .within = within, .as_it_is = true}, "", label->where);
    y += 1100;
    if (y + 300 < at.y2)
        dwi_text(pad, x, y, (struct dwi_type){.size = 750, .ink = DW_TONE_GRAY, .most = most, .within = within}, "", label->note);
}

/* ---- the labels of a plan ---- */

/* ", band top left": the edges of a part that are banded; "" for none. */
static const char *band_words(struct dw_arena *arena, const struct dw_part *part)
{
    static const char *const edges[DW_EDGES] = {[DW_TOP] = " top", [DW_BOTTOM] = " bottom", [DW_LEFT] = " left", [DW_RIGHT] = " right"};
    struct dw_text text = dw_text_in(arena);
    for (size_t e = 0; e < DW_EDGES; e++)
        if (part->banding[e] != DW_NO_INDEX)
            dw_text_addf(&text, "%s%s", text.length == 0 ? ", band" : "", edges[e]);
    return text.length == 0 ? "" : text.bytes;
}

static struct dw_label label_of(const struct dwi_packet *packet, struct dw_piece_ref ref)
{
    struct dw_arena *arena = packet->arena;
    const struct dw_parts *parts = packet->purchase->layouts->jobs[ref.job];
    const struct dw_part *part = &parts->at[ref.part];
    const struct dw_piece *piece = &part->pieces[ref.piece];
    return (struct dw_label){
        .mark = piece->mark,
        .what = dw_arena_format(arena, "%s  %s \xC3\x97 %s", part->name, dwi_length(arena, packet->job, part->length.value),
                                dwi_length(arena, packet->job, part->width.value)),
        .where = dw_arena_format(arena, "%s%s", piece->drawer_path[0] == '\0' ? parts->sizing->job->name : piece->drawer_path, band_words(arena, part)),
        .note = dw_arena_format(arena, "plan %s   %s", packet->purchase->plan_mark, packet->job->shop.materials[part->material].name),
    };
}

/* Which pieces have their label: for each job and part, for each piece. */
static bool ***none_done(const struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    bool ***done = dw_arena_alloc(packet->arena, layouts->job_count, sizeof *done);
    for (size_t j = 0; j < layouts->job_count; j++) {
        done[j] = dw_arena_alloc(packet->arena, layouts->jobs[j]->count, sizeof **done);
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            done[j][p] = dw_arena_alloc(packet->arena, layouts->jobs[j]->at[p].count, sizeof ***done);
    }
    return done;
}

static void label_piece(struct labeling *labeling, bool ***done, struct dw_piece_ref ref)
{
    bool *is_done = &done[ref.job][ref.part][ref.piece];
    if (*is_done)
        return;
    *is_done = true;
    const struct dw_label label = label_of(labeling->packet, ref);
    draw_label(labeling, &label);
}

static void label_panel(struct labeling *labeling, bool ***done, const struct dw_ladder *ladder, size_t panel)
{
    if (panel != DW_NO_INDEX && ladder->panels[panel].use == DW_NODE_PART)
        label_piece(labeling, done, ladder->panels[panel].piece);
}

static void label_ladder(struct labeling *labeling, bool ***done, const struct dw_ladder *ladder)
{
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
            label_panel(labeling, done, ladder, ladder->rungs[r].cuts[c].off);
            label_panel(labeling, done, ladder, ladder->rungs[r].cuts[c].rest);
        }
}

/* In the order of the ladders; then what comes off no ladder, a whole sheet used as it is. */
void dwi_packet_labels(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    struct labeling labeling = {.packet = packet, .sheet = dwi_label_sheet_of(packet->options), .plain = packet->options->label_sheet.columns == 0};
    bool ***done = none_done(packet);
    packet->part = "Labels";
    for (size_t m = 0; m < layouts->material_count; m++)
        label_ladder(&labeling, done, &layouts->materials[m].ladder);
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            for (size_t i = 0; i < layouts->jobs[j]->at[p].count; i++)
                label_piece(&labeling, done, (struct dw_piece_ref){j, p, i});
}

void dwi_plain_labels(struct dwi_packet *packet, const struct dw_label *labels, size_t count)
{
    struct labeling labeling = {.packet = packet, .sheet = dwi_label_sheet_of(packet->options), .plain = packet->options->label_sheet.columns == 0};
    for (size_t i = 0; i < count; i++)
        draw_label(&labeling, &labels[i]);
}

/* Room for the mark and two lines, and every label on the paper. */
bool dwi_labels_fit(const struct dw_packet_options *options)
{
    const struct dw_label_sheet sheet = dwi_label_sheet_of(options);
    const dw_length width = options->paper == DW_A4 ? 210 * DW_MM : 17 * DW_INCH / 2;
    const dw_length height = options->paper == DW_A4 ? 297 * DW_MM : 11 * DW_INCH;
    if (sheet.columns < 1 || sheet.rows < 1 || sheet.columns > 20 || sheet.rows > 60 || sheet.left < 0 || sheet.top < 0)
        return false;
    if (sheet.width < 5 * DW_INCH / 4 || sheet.height < 5 * DW_INCH / 8 || sheet.across < sheet.width || sheet.down < sheet.height)
        return false;
    return sheet.left + (sheet.columns - 1) * sheet.across + sheet.width <= width && sheet.top + (sheet.rows - 1) * sheet.down + sheet.height <= height;
}
