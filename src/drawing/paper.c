/* paper.c - the frame of a page, and tables that flow over pages.
 *
 * The head is underlined like a dimension: one fine line with a slash at each end. At the foot stands a rule of true size, so that every sheet of
 * paper shows whether the printer has kept the scale, and beside it the plan's mark, so that a stale packet shows.
 */
#include "paper.h"

#include <drawerwright/memory.h>

enum { ROW_AIR = 420, CELL_AIR = 500, RIGHT_AIR = 900, TICK_SIZE = 850 };

/* A table's head and a first row or two; the same with its heading: neither is left alone at the foot of a page. */
enum { TABLE_NEED = 5000, HEADING_NEED = TABLE_NEED + DWI_HEADING + 700 };

static void draw_slashed_line(struct dwi_pad *pad, dw_dot x, dw_dot x2, dw_dot y)
{
    dwi_line(pad, x, y, x2, y, DWI_FINE, DW_TONE_INK);
    dwi_line(pad, x - 300, y + 300, x + 300, y - 300, DWI_LINE, DW_TONE_INK);
    dwi_line(pad, x2 - 300, y + 300, x2 + 300, y - 300, DWI_LINE, DW_TONE_INK);
}

struct dwi_area dwi_frame(struct dwi_pad *pad, const char *topic, const char *job)
{
    const dw_dot wide = pad->width - 2 * DWI_MARGIN;
    const dw_dot y = DWI_MARGIN + DWI_TITLE * DWI_CAP / 100;
    const dw_dot taken = dwi_text(pad, DWI_MARGIN, y, (struct dwi_type){.size = DWI_TITLE, .bold = true, .most = wide * 2 / 3}, "", topic);
    dwi_text(pad, pad->width - DWI_MARGIN, y, (struct dwi_type){.anchor = DW_ANCHOR_END, .ink = DW_TONE_GRAY, .most = wide - taken - 1500}, "", job);
    draw_slashed_line(pad, DWI_MARGIN, pad->width - DWI_MARGIN, y + 900);
    return (struct dwi_area){DWI_MARGIN, DWI_MARGIN + DWI_HEAD, pad->width - DWI_MARGIN, pad->height - DWI_MARGIN};
}

static struct dwi_pad *add_page(struct dwi_packet *packet, const char *topic, dw_dot width, dw_dot height)
{
    packet->pages = dw_arena_grow(packet->arena, packet->pages, packet->count, &packet->capacity, sizeof *packet->pages);
    struct dwi_pad *pad = &packet->pages[packet->count++];
    *pad = dwi_pad_new(packet->arena, topic, width, height);
    pad->part = packet->part;
    return pad;
}

/* Of several jobs planned together the first is named, and how many go with it. */
static const char *jobs_in_words(const struct dwi_packet *packet)
{
    const size_t others = packet->purchase->layouts->job_count - 1;
    return others == 0 ? packet->job->name : dw_arena_format(packet->arena, "%s and %zu more", packet->job->name, others);
}

struct dwi_pad *dwi_page(struct dwi_packet *packet, const char *topic)
{
    struct dwi_pad *pad = add_page(packet, topic, packet->page_width, packet->page_height);
    packet->room = dwi_frame(pad, topic, jobs_in_words(packet));
    packet->room.y2 -= DWI_FOOT;
    return pad;
}

struct dwi_pad *dwi_bare_page(struct dwi_packet *packet, const char *topic)
{
    return add_page(packet, topic, packet->page_height, packet->page_width);
}

struct dwi_pad *dwi_page_now(struct dwi_packet *packet)
{
    return &packet->pages[packet->count - 1];
}

/* A rule of true size: four inches or a hundred millimeters. */
static void draw_rule(struct dwi_pad *pad, dw_dot x, dw_dot y, enum dw_unit unit)
{
    const dw_length step = unit == DW_IN ? DW_INCH / 4 : 10 * DW_MM;
    const int steps = unit == DW_IN ? 16 : 10;
    const int major = unit == DW_IN ? 4 : 5;
    dwi_line(pad, x, y, x + dwi_dots(step * steps, 1), y, DWI_FINE, DW_TONE_GRAY);
    for (int i = 0; i <= steps; i++)
        dwi_line(pad, x + dwi_dots(step * i, 1), y, x + dwi_dots(step * i, 1), y - (i % major == 0 ? 600 : 300), DWI_FINE, DW_TONE_GRAY);
    dwi_text(pad, x + dwi_dots(step * steps, 1) + 600, y, (struct dwi_type){.size = DWI_TINY, .ink = DW_TONE_GRAY}, "",
             unit == DW_IN ? "4 in if printed at full size" : "100 mm if printed at full size");
}

static void draw_foot(const struct dwi_packet *packet, struct dwi_pad *pad, size_t page)
{
    const dw_dot y = pad->height - DWI_MARGIN;
    const struct dwi_type note = {.size = DWI_NOTE};
    struct dwi_type right = note;
    right.anchor = DW_ANCHOR_END;
    const char *date = packet->job->date;
    const char *mark = dw_arena_format(packet->arena, "plan %s%s%s", packet->purchase->plan_mark, date[0] == '\0' ? "" : "   ", date);
    dwi_text(pad, DWI_MARGIN, y, (struct dwi_type){.size = DWI_NOTE, .bold = true, .most = 17000, .as_it_is = true}, "", mark);
    draw_rule(pad, pad->width / 2 - 19000, y, packet->job->unit);
    dwi_text(pad, pad->width - DWI_MARGIN, y, right, "", dw_arena_format(packet->arena, "page %zu of %zu", page + 1, packet->count));
}

struct dw_scenes dwi_packet_close(struct dwi_packet *packet)
{
    struct dw_scene *scenes = dw_arena_alloc(packet->arena, packet->count, sizeof *scenes);
    for (size_t i = 0; i < packet->count; i++) {
        if (packet->pages[i].width == packet->page_width)
            draw_foot(packet, &packet->pages[i], i);
        scenes[i] = dwi_pad_scene(&packet->pages[i]);
    }
    return (struct dw_scenes){.at = scenes, .count = packet->count};
}

/* ---- the flow --------------------------------------------------------------------------------------------- */

static void begin_page(struct dwi_flow *flow, bool first)
{
    dwi_page(flow->packet, first ? flow->topic : dw_arena_format(flow->packet->arena, "%s, continued", flow->topic));
    flow->y = flow->packet->room.y;
    flow->x = flow->packet->room.x;
    flow->width = dwi_wide(flow->packet->room);
}

struct dwi_flow dwi_flow_on(struct dwi_packet *packet, const char *topic)
{
    struct dwi_flow flow = {.packet = packet, .topic = topic};
    begin_page(&flow, true);
    return flow;
}

static bool has_titles(const struct dwi_flow *flow)
{
    for (size_t c = 0; c < flow->column_count; c++)
        if (flow->columns[c].title[0] != '\0')
            return true;
    return false;
}

static void draw_table_head(struct dwi_flow *flow)
{
    if (!has_titles(flow))
        return;
    struct dwi_pad *pad = dwi_page_now(flow->packet);
    dw_dot x = flow->x;
    for (size_t c = 0; c < flow->column_count; c++) {
        const struct dwi_column *column = &flow->columns[c];
        const bool right = column->align == DWI_RIGHT;
        dwi_text(pad, right ? x + column->width - RIGHT_AIR : x, flow->y + DWI_NOTE,
                 (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .anchor = right ? DW_ANCHOR_END : DW_ANCHOR_START,
                                   .most = column->width - (right ? RIGHT_AIR : CELL_AIR)}, "", column->title);
        x += column->width;
    }
    flow->y += DWI_NOTE + 500;
    dwi_line(pad, flow->x, flow->y, x, flow->y, DWI_FINE, DW_TONE_INK);
}

static void draw_heading(struct dwi_flow *flow, const char *text, const char *behind)
{
    struct dwi_pad *pad = dwi_page_now(flow->packet);
    const dw_dot y = flow->y + DWI_HEADING;
    const dw_dot most = behind[0] == '\0' ? flow->width : flow->width * 3 / 5;
    const dw_dot taken = dwi_text(pad, flow->x, y, (struct dwi_type){.size = DWI_HEADING, .bold = true, .most = most}, "", text);
    dwi_text(pad, flow->x + taken + 800, y, (struct dwi_type){.ink = DW_TONE_GRAY, .most = flow->width - taken - 800}, "", behind);
    flow->y = y + 700;
}

void dwi_flow_need(struct dwi_flow *flow, dw_dot height)
{
    if (flow->y + height <= flow->packet->room.y2)
        return;
    begin_page(flow, false);
    if (flow->column_count == 0)
        return;
    if (flow->under != NULL)
        draw_heading(flow, flow->under, "continued");
    draw_table_head(flow);
}

void dwi_flow_gap(struct dwi_flow *flow, dw_dot height)
{
    flow->y += height;
}

void dwi_flow_heading(struct dwi_flow *flow, const char *text, const char *behind)
{
    flow->column_count = 0;
    if (flow->y > flow->packet->room.y)
        flow->y += 900;
    dwi_flow_need(flow, HEADING_NEED);
    draw_heading(flow, text, behind);
    flow->under = text;
}

void dwi_flow_paragraph(struct dwi_flow *flow, struct dwi_type type, const char *address, const char *text)
{
    const dw_dot size = type.size == 0 ? DWI_BODY : type.size;
    type.most = flow->width;
    const dw_dot height = (dw_dot)dwi_paragraph_lines(flow->packet->arena, type, text) * dwi_leading(size);
    dwi_flow_need(flow, height);
    dwi_paragraph(dwi_page_now(flow->packet), flow->x, flow->y + size, type, address, text);
    flow->y += height + 300;
}

void dwi_flow_table(struct dwi_flow *flow, const struct dwi_column *columns, size_t count)
{
    flow->columns = columns;
    flow->column_count = 0;
    dwi_flow_need(flow, TABLE_NEED);
    flow->column_count = count;
    draw_table_head(flow);
}

static struct dwi_type cell_type(const struct dwi_column *column)
{
    const enum dw_anchor anchor = column->align == DWI_RIGHT ? DW_ANCHOR_END : column->align == DWI_MIDDLE ? DW_ANCHOR_MIDDLE : DW_ANCHOR_START;
    return (struct dwi_type){.size = column->size == 0 ? DWI_BODY : column->size, .bold = column->bold, .anchor = anchor,
                             .most = column->width - (column->align == DWI_RIGHT ? RIGHT_AIR : CELL_AIR), .as_it_is = column->as_it_is};
}

/* A figure that is cut short is a wrong figure: at the right stand figures, and they are set smaller until they fit. */
static struct dwi_type fitted_type(const struct dwi_pad *pad, const struct dwi_column *column, const char *text)
{
    struct dwi_type type = cell_type(column);
    if (column->align != DWI_RIGHT)
        return type;
    const char *ready = dwi_typeset(pad->arena, text);
    while (type.size > DWI_SMALLEST && dwi_text_width(ready, type.size, type.bold) > type.most)
        type.size -= 20;
    type.most = 0;
    return type;
}

static void draw_cell(struct dwi_pad *pad, const struct dwi_column *column, dw_dot x, dw_dot y, const char *address, const char *text)
{
    const struct dwi_type type = fitted_type(pad, column, text);
    const dw_dot at = column->align == DWI_RIGHT ? x + column->width - RIGHT_AIR : column->align == DWI_MIDDLE ? x + column->width / 2 : x;
    if (column->tick)
        dwi_rectangle(pad, (struct dwi_area){x + 100, y - TICK_SIZE + 100, x + 100 + TICK_SIZE, y + 100}, DWI_FINE, DW_TONE_INK, DW_TONE_PAPER, "");
    else if (column->wrap)
        dwi_paragraph(pad, at, y, type, address, text);
    else
        dwi_text(pad, at, y, type, address, text);
}

void dwi_flow_rule(struct dwi_flow *flow)
{
    if (flow->y > flow->packet->room.y)
        dwi_line(dwi_page_now(flow->packet), flow->x, flow->y, flow->x + flow->width, flow->y, DWI_FINE, DW_TONE_GRAY);
}

dw_dot dwi_flow_row_height(const struct dwi_flow *flow, const struct dwi_column *columns, size_t count, const char *const *cells)
{
    size_t lines = 1;
    for (size_t c = 0; c < count; c++)
        if (columns[c].wrap) {
            const size_t needed = dwi_paragraph_lines(flow->packet->arena, cell_type(&columns[c]), cells[c]);
            lines = needed > lines ? needed : lines;
        }
    return (dw_dot)lines * dwi_leading(DWI_BODY) + ROW_AIR;
}

void dwi_flow_row(struct dwi_flow *flow, const char *address, const char *const *cells)
{
    const dw_dot height = dwi_flow_row_height(flow, flow->columns, flow->column_count, cells);
    dwi_flow_need(flow, height);
    struct dwi_pad *pad = dwi_page_now(flow->packet);
    dw_dot x = flow->x;
    for (size_t c = 0; c < flow->column_count; c++) {
        draw_cell(pad, &flow->columns[c], x, flow->y + ROW_AIR / 2 + DWI_BODY, address, cells[c]);
        x += flow->columns[c].width;
    }
    flow->y += height;
    dwi_line(pad, flow->x, flow->y, x, flow->y, DWI_HAIR, DW_TONE_PALE);
}
