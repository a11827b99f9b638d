/* lists.c - the pages that are tables: cut ladder, drawers, parts, shopping list, cautions. */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "packet.h"

static const char *length_of(const struct dwi_packet *packet, dw_length length)
{
    return dwi_length(packet->arena, packet->job, length);
}

/* A width of the page's room that is left beside the other columns. */
static dw_dot rest_of(const struct dwi_packet *packet, dw_dot taken)
{
    return packet->page_width - 2 * DWI_MARGIN - taken;
}

/* ---- cut ladder ------------------------------------------------------------------------------------------- */

static const char *rung_word(enum dw_ladder_kind kind)
{
    switch (kind) {
    case DW_LADDER_TRIM:
        return "trim";
    case DW_LADDER_BREAKDOWN:
        return "break down";
    case DW_LADDER_RIP:
        return "rip";
    case DW_LADDER_CROSSCUT:
        return "crosscut";
    }
    return "";
}

static const char *names(struct dw_arena *arena, const char *const *at, size_t count)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : " ", at[i]);
    return text.bytes;
}

static void write_rung(struct dwi_flow *flow, const struct dw_ladder_rung *rung)
{
    struct dw_arena *arena = flow->packet->arena;
    const char *what = rung->caution[0] == '\0' ? rung->what : dw_arena_format(arena, "%s Care: %s", rung->what, rung->caution);
    const char *cells[] = {"", dw_arena_format(arena, "%d", rung->number), rung_word(rung->kind), length_of(flow->packet, rung->setting), rung->tool, what,
                           names(arena, rung->sheets, rung->sheet_count)};
    dwi_flow_row(flow, "", cells);
}

static void write_ladder(struct dwi_flow *flow, const struct dw_material_layout *layout)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_material *material = &packet->job->shop.materials[layout->problem->material];
    const struct dw_ladder *ladder = &layout->ladder;
    const struct dwi_column columns[] = {
        {.title = "", .width = 1600, .tick = true},
        {.title = "", .width = 2200, .align = DWI_RIGHT, .bold = true},
        {.title = "cut", .width = 6400},
        {.title = dw_arena_format(packet->arena, "set to, %s", dw_unit_word(packet->job->unit)), .width = 5600, .align = DWI_RIGHT, .bold = true},
        {.title = "on", .width = 12000, .wrap = true},
        {.title = "what", .width = rest_of(packet, 1600 + 2200 + 6400 + 5600 + 12000 + 6400), .wrap = true},
        {.title = "sheets", .width = 6400, .wrap = true, .as_it_is = true},
    };
    dwi_flow_heading(flow, material->name,
                     dw_arena_format(packet->arena, "measures %s, kerf %s, %zu %s, %zu settings, %zu cuts", length_of(packet, material->thickness),
                                     length_of(packet, layout->problem->request.kerf), layout->sheet_count, layout->sheet_count == 1 ? "sheet" : "sheets",
                                     ladder->settings, ladder->cuts));
    for (size_t i = 0; i < ladder->caution_count; i++)
        dwi_flow_paragraph(flow, (struct dwi_type){0}, "", dw_arena_format(packet->arena, "\xE2\x80\xA2 %s", ladder->cautions[i]));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < ladder->rung_count; i++)
        write_rung(flow, &ladder->rungs[i]);
    flow->column_count = 0;
    dwi_flow_gap(flow, 1200);
}

void dwi_packet_ladder(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Cut ladder";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t m = 0; m < layouts->material_count; m++)
        write_ladder(&flow, &layouts->materials[m]);
}

/* ---- drawers ---------------------------------------------------------------------------------------------- */

static const char *pair_of(const struct dwi_packet *packet, dw_length a, dw_length b)
{
    return dw_arena_format(packet->arena, "%s \xC3\x97 %s", length_of(packet, a), length_of(packet, b));
}

static void write_drawer(struct dwi_flow *flow, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer)
{
    struct dwi_packet *packet = flow->packet;
    const bool boxed = drawer->box_width.step_count != 0;
    const bool slid = boxed && drawer->slide != DW_NO_INDEX && drawer->slide_length.step_count != 0;
    const char *cells[] = {
        drawer->path,
        pair_of(packet, drawer->front.width, drawer->front.height),
        boxed ? pair_of(packet, drawer->box_width.value, drawer->box_height.value) : "",
        boxed ? length_of(packet, drawer->box_depth.value) : "",
        boxed ? pair_of(packet, drawer->inside_width.value, drawer->inside_height.value) : "",
        slid ? length_of(packet, drawer->slide_length.value) : "",
        slid && drawer->slide_center.step_count != 0 ? length_of(packet, drawer->slide_center.value) : "",
        slid ? sizing->job->shop.slides[drawer->slide].name : drawer->drawer->holds == NULL ? "" : drawer->drawer->holds,
    };
    dwi_flow_row(flow, drawer->address, cells);
}

void dwi_packet_drawers(struct dwi_packet *packet)
{
    const struct dwi_column columns[] = {
        {.title = "drawer", .width = 14000, .bold = true, .as_it_is = true},
        {.title = "front, w \xC3\x97 h", .width = 10600, .align = DWI_RIGHT},
        {.title = "box, w \xC3\x97 h", .width = 10600, .align = DWI_RIGHT},
        {.title = "deep", .width = 5200, .align = DWI_RIGHT},
        {.title = "inside, w \xC3\x97 h", .width = 10600, .align = DWI_RIGHT},
        {.title = "slide", .width = 4600, .align = DWI_RIGHT},
        {.title = "its center", .width = 6000, .align = DWI_RIGHT},
        {.title = "", .width = rest_of(packet, 14000 + 3 * 10600 + 5200 + 4600 + 6000)},
    };
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Drawers";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    dwi_flow_paragraph(&flow, (struct dwi_type){.ink = DW_TONE_GRAY}, "",
                       dw_arena_format(packet->arena, "All in %s. A slide's center is measured from the case floor.", dw_unit_word(packet->job->unit)));
    dwi_flow_table(&flow, columns, sizeof columns / sizeof *columns);
    for (size_t j = 0; j < layouts->job_count; j++) {
        const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
        for (size_t c = 0; c < sizing->case_count; c++)
            for (size_t b = 0; b < sizing->cases[c].bank_count; b++)
                for (size_t d = 0; d < sizing->cases[c].banks[b].drawer_count; d++)
                    write_drawer(&flow, sizing, &sizing->cases[c].banks[b].drawers[d]);
    }
}

/* ---- parts ------------------------------------------------------------------------------------------------ */

static const char *marks_of(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->count; i++)
        dw_text_addf(&text, "%s%s%s", i == 0 ? "" : "  ", part->pieces[i].mark, i + part->spares >= part->count ? " (spare)" : "");
    return text.bytes;
}

static const char *works_of(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->work_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : "; ", part->works[i].words);
    return text.bytes;
}

static const char *grain_word(const struct dw_part *part)
{
    switch (part->grain) {
    case DW_ALONG:
        return "along";
    case DW_ACROSS:
        return "across";
    case DW_FREE:
        return "free";
    }
    return "";
}

static void write_part(struct dwi_flow *flow, const struct dw_part *part)
{
    struct dwi_packet *packet = flow->packet;
    const char *cells[] = {"", dw_arena_format(packet->arena, "%zu", part->count), part->name, length_of(packet, part->length.value),
                           length_of(packet, part->width.value), grain_word(part), marks_of(packet->arena, part), works_of(packet->arena, part)};
    dwi_flow_row(flow, "", cells);
}

static void write_parts_of(struct dwi_flow *flow, const struct dw_parts *parts, size_t material)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_material *of = &packet->job->shop.materials[material];
    size_t pieces = 0;
    for (size_t p = 0; p < parts->count; p++)
        pieces += parts->at[p].material == material ? parts->at[p].count : 0;
    if (pieces == 0)
        return;
    const dw_dot fixed = 1600 + 2800 + 9000 + 6600 + 6600 + 4800;
    const struct dwi_column columns[] = {
        {.title = "", .width = 1600, .tick = true},
        {.title = "", .width = 2800, .align = DWI_RIGHT, .bold = true},
        {.title = "part", .width = 9000},
        {.title = "length", .width = 6600, .align = DWI_RIGHT, .bold = true},
        {.title = "width", .width = 6600, .align = DWI_RIGHT, .bold = true},
        {.title = "grain", .width = 4800},
        {.title = "marks", .width = rest_of(packet, fixed) / 2, .wrap = true, .as_it_is = true},
        {.title = "then", .width = rest_of(packet, fixed) / 2, .wrap = true},
    };
    dwi_flow_heading(flow, of->name, dw_arena_format(packet->arena, "measures %s, %zu pieces%s%s", length_of(packet, of->thickness), pieces,
                                                     packet->purchase->layouts->job_count > 1 ? ", " : "",
                                                     packet->purchase->layouts->job_count > 1 ? parts->sizing->job->name : ""));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t p = 0; p < parts->count; p++)
        if (parts->at[p].material == material)
            write_part(flow, &parts->at[p]);
    flow->column_count = 0;
    dwi_flow_gap(flow, 1000);
}

void dwi_packet_parts(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Parts";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t m = 0; m < packet->job->shop.material_count; m++)
        for (size_t j = 0; j < layouts->job_count; j++)
            write_parts_of(&flow, layouts->jobs[j], m);
}

/* ---- shopping list ---------------------------------------------------------------------------------------- */

static void write_order(struct dwi_flow *flow, const struct dw_order *order)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_currency currency = packet->job->shop.prices.currency;
    const struct dwi_column columns[] = {
        {.title = "", .width = 1600, .tick = true},
        {.title = "", .width = 3600, .align = DWI_RIGHT, .bold = true},
        {.title = "what", .width = rest_of(packet, 1600 + 3600 + 2 * 9000), .wrap = true},
        {.title = "each", .width = 9000, .align = DWI_RIGHT},
        {.title = "in all", .width = 9000, .align = DWI_RIGHT},
    };
    const char *delivery = order->delivery == 0 ? "" : dw_arena_format(packet->arena, ", delivery %s", dw_money_show(packet->arena, order->delivery, currency.decimals));
    dwi_flow_heading(flow, order->supplier[0] == '\0' ? "Wherever it is to be had" : order->supplier,
                     dw_arena_format(packet->arena, "goods %s%s, before tax %s", dw_money_show(packet->arena, order->goods, currency.decimals), delivery,
                                     dw_money_show_mark(packet->arena, order->total, currency)));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = order->line; i < order->line + order->line_count; i++) {
        const struct dw_buy_line *line = &packet->purchase->lines[i];
        const char *cells[] = {"", dw_arena_format(packet->arena, "%lld", (long long)line->count), line->what,
                               dw_money_show(packet->arena, line->each, currency.decimals), dw_money_show(packet->arena, line->total, currency.decimals)};
        dwi_flow_row(flow, "", cells);
    }
    flow->column_count = 0;
    dwi_flow_gap(flow, 1000);
}

static const char *steps_of(struct dw_arena *arena, const struct dw_cost_line *line, struct dw_currency currency)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t s = 0; s < line->step_count; s++)
        dw_text_addf(&text, "%s%s %s", s == 0 ? "" : "; ", line->steps[s].words, dw_money_show(arena, line->steps[s].amount, currency.decimals));
    return text.bytes;
}

static void write_cost(struct dwi_flow *flow, const char *title, const struct dw_cost_line *lines, size_t count, dw_money sum)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_currency currency = packet->job->shop.prices.currency;
    const struct dwi_column columns[] = {
        {.title = "", .width = 9000},
        {.title = "", .width = 9000, .align = DWI_RIGHT, .bold = true},
        {.title = "how", .width = rest_of(packet, 18000), .wrap = true},
    };
    if (count == 0)
        return;
    dwi_flow_heading(flow, title, dw_money_show_mark(packet->arena, sum, currency));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < count; i++) {
        const char *cells[] = {lines[i].name, dw_money_show(packet->arena, lines[i].amount, currency.decimals), steps_of(packet->arena, &lines[i], currency)};
        dwi_flow_row(flow, "", cells);
    }
    flow->column_count = 0;
    dwi_flow_gap(flow, 1000);
}

void dwi_packet_shopping(struct dwi_packet *packet)
{
    const struct dw_purchase *purchase = packet->purchase;
    packet->part = "Shopping list and cost";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t i = 0; i < purchase->order_count; i++)
        write_order(&flow, &purchase->orders[i]);
    write_cost(&flow, "Money out now", purchase->money_out, purchase->money_out_count, purchase->total);
    write_cost(&flow, "What the job uses", purchase->consumed, purchase->consumed_count, purchase->cost);
}

/* ---- cautions --------------------------------------------------------------------------------------------- */

void dwi_packet_cautions(struct dwi_packet *packet)
{
    const struct dwi_column columns[] = {
        {.title = "where", .width = 17000, .as_it_is = true, .wrap = true},
        {.title = "what", .width = rest_of(packet, 17000) / 2, .wrap = true},
        {.title = "better", .width = rest_of(packet, 17000) / 2, .wrap = true},
    };
    packet->part = "Cautions";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    dwi_flow_paragraph(&flow, (struct dwi_type){0}, "",
                       "Figures here are a help, not a license: local codes, the maker's instructions of saw and slides, and your own measuring of the "
                       "material at hand come first. Wear eye and ear protection; use the guard, riving knife and push stick; no fence together with a miter gauge.");
    if (dwi_warning_count(packet->warnings) == 0)
        return;
    dwi_flow_gap(&flow, 600);
    dwi_flow_table(&flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < packet->warnings->count; i++) {
        const struct dw_fault *fault = &packet->warnings->at[i];
        if (fault->grade != DW_WARNING)
            continue;
        const char *cells[] = {fault->address, fault->wrong, fault->cure};
        dwi_flow_row(&flow, fault->address, cells);
    }
}
