/* summary.c - the first page: what is made, what to buy, what it costs and how near that is to the least possible, what to mind. */
#include <drawerwright/leeway.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "elevation.h"
#include "packet.h"

enum { SKETCH_WIDTH = 27000, SKETCH_HIGH = 20000, COLUMN_GAP = 2400, LINES_MOST = 14 };

static size_t drawers_in(const struct dwi_packet *packet)
{
    size_t count = 0;
    for (size_t j = 0; j < packet->purchase->layouts->job_count; j++)
        count += packet->purchase->layouts->jobs[j]->sizing->drawer_count;
    return count;
}

static struct dw_currency currency_of(const struct dwi_packet *packet)
{
    return packet->job->shop.prices.currency;
}

/* A name at the left, on as many lines as it takes, and an amount at the right of the first one. */
static void pair(struct dwi_flow *flow, const char *name, const char *amount, bool bold)
{
    struct dw_arena *arena = flow->packet->arena;
    const struct dwi_type type = {.bold = bold, .most = flow->width - dwi_text_width(amount, DWI_BODY, bold) - 800};
    const dw_dot height = (dw_dot)dwi_paragraph_lines(arena, type, name) * dwi_leading(DWI_BODY) + 300;
    dwi_flow_need(flow, height);
    struct dwi_pad *pad = dwi_page_now(flow->packet);
    dwi_text(pad, flow->x + flow->width, flow->y + DWI_BODY, (struct dwi_type){.bold = bold, .anchor = DW_ANCHOR_END}, "", amount);
    dwi_paragraph(pad, flow->x, flow->y + DWI_BODY, type, "", name);
    flow->y += height;
}

static void write_what(struct dwi_flow *flow)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_layouts *layouts = packet->purchase->layouts;
    for (size_t j = 1; j < layouts->job_count; j++)
        dwi_flow_paragraph(flow, (struct dwi_type){.bold = true}, "", dw_arena_format(packet->arena, "with %s", layouts->jobs[j]->sizing->job->name));
    size_t sheets = 0;
    size_t parts = 0;
    for (size_t m = 0; m < layouts->material_count; m++)
        sheets += layouts->materials[m].sheet_count;
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            parts += layouts->jobs[j]->at[p].count;
    const size_t drawers = drawers_in(packet);
    dwi_flow_paragraph(flow, (struct dwi_type){0}, "",
                       dw_arena_format(packet->arena, "%zu %s, %zu parts to cut, %zu %s of material.", drawers, drawers == 1 ? "drawer" : "drawers", parts,
                                       sheets, sheets == 1 ? "sheet" : "sheets"));
    if (packet->job->customer_note[0] != '\0')
        dwi_flow_paragraph(flow, (struct dwi_type){.ink = DW_TONE_GRAY}, "", packet->job->customer_note);
}

static void write_purchase(struct dwi_flow *flow)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_purchase *purchase = packet->purchase;
    const struct dw_currency currency = currency_of(packet);
    dwi_flow_heading(flow, "To buy", purchase->line_count > LINES_MOST ? "the rest is on the shopping list" : "");
    for (size_t i = 0; i < purchase->line_count && i < LINES_MOST; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        pair(flow, dw_arena_format(packet->arena, "%lld  %s", (long long)line->count, line->what),
             dw_money_show(packet->arena, line->total, currency.decimals), false);
    }
    dwi_line(dwi_page_now(packet), flow->x, flow->y, flow->x + flow->width, flow->y, DWI_FINE, DW_TONE_INK);
    flow->y += 300;
    pair(flow, packet->job->shop.prices.tax == 0 ? "Money out now" : "Money out now, tax included", dw_money_show_mark(packet->arena, purchase->total, currency), true);
    if (purchase->cost != 0)
        pair(flow, packet->job->shop.prices.labor_rate == 0 ? "What the job uses" : "What the job uses, labor included", dw_money_show_mark(packet->arena, purchase->cost, currency), false);
    dwi_flow_paragraph(flow, (struct dwi_type){0}, "",
                       dw_arena_format(packet->arena, "Sheets come to %s: %s.", dw_money_show_mark(packet->arena, purchase->sheets_cost, currency),
                                       dw_purchase_bound_words(packet->arena, purchase->sheets_cost, purchase->lower_bound, purchase->proved, currency)));
    if (purchase->leeway != NULL && purchase->leeway->change_count > 0)
        dwi_flow_paragraph(flow, (struct dwi_type){0}, "", dw_arena_format(packet->arena, "Sizes gave: %s.", purchase->leeway->words));
    if (purchase->near != NULL && purchase->near->change_count > 0)
        dwi_flow_paragraph(flow, (struct dwi_type){0}, "", dw_arena_format(packet->arena, "Almost a sheet less: %s.", purchase->near->words));
}

static void write_cautions(struct dwi_flow *flow)
{
    struct dwi_packet *packet = flow->packet;
    const struct dwi_cautions cautions = dwi_cautions_of(packet);
    if (cautions.count == 0)
        return;
    dwi_flow_heading(flow, "Cautions", "in full on the last pages");
    for (size_t i = 0; i < cautions.count; i++) {
        const struct dwi_caution *caution = &cautions.at[i];
        const char *text = dw_arena_format(packet->arena, "%s%s%s.", caution->places, caution->places[0] == '\0' ? "" : ": ", caution->fault->wrong);
        const dw_dot height = (dw_dot)dwi_paragraph_lines(packet->arena, (struct dwi_type){.most = flow->width}, text) * dwi_leading(DWI_BODY);
        const dw_dot last_line = i + 1 == cautions.count ? 0 : dwi_leading(DWI_BODY) + 300;
        if (flow->y + height + last_line > packet->room.y2) {
            dwi_flow_paragraph(flow, (struct dwi_type){.ink = DW_TONE_GRAY}, "", dw_arena_format(packet->arena, "and %zu more", cautions.count - i));
            return;
        }
        dwi_flow_paragraph(flow, (struct dwi_type){0}, caution->fault->address, text);
    }
}

/* Each case small, side by side or one over the other, in the right column. */
static void draw_sketches(struct dwi_packet *packet, struct dwi_area room)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    size_t cases = 0;
    for (size_t j = 0; j < layouts->job_count; j++)
        cases += layouts->jobs[j]->sizing->case_count;
    const size_t shown = cases > 4 ? 4 : cases;
    size_t at = 0;
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t c = 0; c < layouts->jobs[j]->sizing->case_count && at < shown; c++, at++) {
            const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
            const dw_dot wide = (dwi_wide(room) + 1500) / (shown > 1 ? 2 : 1);
            const dw_dot high = dwi_high(room) / (shown > 2 ? 2 : 1);
            const dw_dot x = room.x + (dw_dot)(at % 2) * wide;
            const dw_dot y = room.y + (dw_dot)(at / 2) * high;
            dwi_draw_thumbnail(dwi_page_now(packet), sizing, c, (struct dwi_area){x, y + 300, x + wide - 1500, y + high - 2000});
            dwi_text(dwi_page_now(packet), x, y + high - 700, (struct dwi_type){.size = DWI_NOTE, .most = wide - 1500}, sizing->cases[c].address,
                     dw_arena_format(packet->arena, "%s%s, %s \xC3\x97 %s", sizing->cases[c].path,
                                     sizing->cases[c].source->count > 1 ? dw_arena_format(packet->arena, " (%lld alike)", (long long)sizing->cases[c].source->count) : "",
                                     dwi_length(packet->arena, sizing->job, sizing->cases[c].width), dwi_length(packet->arena, sizing->job, sizing->cases[c].height)));
        }
}

void dwi_packet_summary(struct dwi_packet *packet)
{
    struct dwi_flow flow = dwi_flow_on(packet, "Summary");
    const struct dwi_area room = packet->room;
    flow.width = dwi_wide(room) - SKETCH_WIDTH - COLUMN_GAP;
    draw_sketches(packet, (struct dwi_area){room.x2 - SKETCH_WIDTH, room.y, room.x2, room.y + SKETCH_HIGH});
    dwi_flow_heading(&flow, packet->job->name, "");
    write_what(&flow);
    write_purchase(&flow);
    write_cautions(&flow);
}

/* The topics of the pages with the number of each one's first page, in the lower right corner of the first page. */
void dwi_packet_contents(struct dwi_packet *packet)
{
    struct dwi_pad *pad = &packet->pages[0];
    const dw_dot x = packet->page_width - DWI_MARGIN - SKETCH_WIDTH;
    const dw_dot x2 = packet->page_width - DWI_MARGIN;
    const dw_dot low = packet->page_height - DWI_MARGIN - DWI_FOOT;
    dw_dot y = DWI_MARGIN + DWI_HEAD + SKETCH_HIGH + DWI_HEADING;
    dwi_text(pad, x, y, (struct dwi_type){.size = DWI_HEADING, .bold = true}, "", "In this packet");
    y += 700;
    for (size_t p = 1; p < packet->count; p++) {
        if (packet->pages[p].part == packet->pages[p - 1].part)
            continue;
        y += dwi_leading(DWI_BODY);
        if (y + dwi_leading(DWI_BODY) > low)
            return;
        const dw_dot taken = dwi_text(pad, x2, y, (struct dwi_type){.anchor = DW_ANCHOR_END}, "", dw_arena_format(packet->arena, "%zu", p + 1));
        dwi_text(pad, x, y, (struct dwi_type){.most = x2 - x - taken - 800}, "", packet->pages[p].part);
    }
}
