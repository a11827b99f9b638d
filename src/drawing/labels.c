/* labels.c - a label for every piece: its mark large, what it is, its size, where it goes, and the plan's mark. On sheets of adhesive labels by their
 * measures, or on plain paper with lines to cut along.
 */
#include <drawerwright/memory.h>

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

static const char *size_of(const struct labeling *labeling, const struct dw_part *part)
{
    struct dw_arena *arena = labeling->packet->arena;
    const struct dw_job *job = labeling->packet->job;
    return dw_arena_format(arena, "%s  %s \xC3\x97 %s", part->name, dwi_length(arena, job, part->length.value), dwi_length(arena, job, part->width.value));
}

static void draw_label(struct labeling *labeling, const struct dw_parts *parts, const struct dw_part *part, size_t piece)
{
    const struct dwi_area at = next_place(labeling);
    const dw_dot most = dwi_wide(at) - 2 * AIR;
    const dw_dot x = at.x + AIR;
    struct dwi_pad *pad = labeling->pad;
    const struct dw_piece *of = &part->pieces[piece];
    const char *where = of->drawer_path[0] == '\0' ? parts->sizing->job->name : of->drawer_path;
    size_t within = 0;
    if (labeling->plain)
        within = dwi_rectangle(pad, at, DWI_HAIR, DW_TONE_GRAY, DW_TONE_NONE, "");
    dw_dot y = at.y + AIR + 1500 * DWI_CAP / 100;
    dwi_text(pad, x, y, (struct dwi_type){.size = 1500, .bold = true, .most = most, .within = within, .as_it_is = true}, "", of->mark);
    dwi_text(pad, x, y += 1400, (struct dwi_type){.most = most, .within = within}, "", size_of(labeling, part));
    dwi_text(pad, x, y += 1250, (struct dwi_type){.most = most, .within = within, .as_it_is = true}, "", where);
    y += 1100;
    if (y + 300 < at.y2)
        dwi_text(pad, x, y, (struct dwi_type){.size = 750, .ink = DW_TONE_GRAY, .most = most, .within = within}, "",
                 dw_arena_format(labeling->packet->arena, "plan %s   %s", labeling->packet->purchase->plan_mark,
                                 labeling->packet->job->shop.materials[part->material].name));
}

void dwi_packet_labels(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    struct labeling labeling = {.packet = packet, .sheet = dwi_label_sheet_of(packet->options), .plain = packet->options->label_sheet.columns == 0};
    packet->part = "Labels";
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            for (size_t i = 0; i < layouts->jobs[j]->at[p].count; i++)
                draw_label(&labeling, layouts->jobs[j], &layouts->jobs[j]->at[p], i);
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
