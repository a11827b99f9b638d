/* lists.c - drawers with their sizes, shopping list with the cost, cautions. */
#include <string.h>

#include <drawerwright/memory.h>

#include "elevation.h"
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

/* ---- drawers ---------------------------------------------------------------------------------------------- */

static const char *pair_of(const struct dwi_packet *packet, dw_length a, dw_length b)
{
    return dw_arena_format(packet->arena, "%s \xC3\x97 %s", length_of(packet, a), length_of(packet, b));
}

static bool is_slid(const struct dw_sized_drawer *drawer)
{
    return drawer->box_width.step_count != 0 && drawer->slide != DW_NO_INDEX && drawer->slide_length.step_count != 0;
}

/* The slide that all drawers of a bank run on; DW_NO_INDEX when there is no such one. */
static size_t slide_of(const struct dw_sized_bank *bank)
{
    size_t slide = DW_NO_INDEX;
    for (size_t d = 0; d < bank->drawer_count; d++) {
        const struct dw_sized_drawer *drawer = &bank->drawers[d];
        if (!is_slid(drawer))
            continue;
        if (slide != DW_NO_INDEX && slide != drawer->slide)
            return DW_NO_INDEX;
        slide = drawer->slide;
    }
    return slide;
}

static const char *name_of_slide(const struct dw_sizing *sizing, size_t slide)
{
    return slide == DW_NO_INDEX ? "" : sizing->job->shop.slides[slide].name;
}

/* How the marks of a drawer's pieces begin, and its name: "A-1.2  cutlery". */
static const char *name_of(const struct dwi_flow *flow, const struct dw_parts *parts, const struct dw_sized_bank *bank, size_t index)
{
    const struct dw_sized_drawer *drawer = &bank->drawers[index];
    const char *name = strncmp(drawer->path, bank->path, strlen(bank->path)) == 0 ? drawer->path + strlen(bank->path) : drawer->path;
    const char *fill = dwi_fill_word(drawer->drawer->fill);
    return dw_arena_format(flow->packet->arena, "%s-%zu.%zu  %s%s%s", parts->case_letters[drawer->case_index], drawer->bank_index + 1, index + 1,
                           name[0] == '/' ? name + 1 : name, fill[0] == '\0' ? "" : " ", fill);
}

static void write_drawer(struct dwi_flow *flow, const struct dw_parts *parts, const struct dw_sized_bank *bank, size_t index)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_sized_drawer *drawer = &bank->drawers[index];
    const bool boxed = drawer->box_width.step_count != 0;
    const bool slid = is_slid(drawer);
    const char *holds = drawer->drawer->holds == NULL ? "" : drawer->drawer->holds;
    const char *slide = slid && slide_of(bank) == DW_NO_INDEX ? name_of_slide(parts->sizing, drawer->slide) : "";
    const char *cells[] = {
        name_of(flow, parts, bank, index),
        pair_of(packet, drawer->front.width, drawer->front.height),
        boxed ? pair_of(packet, drawer->box_width.value, drawer->box_height.value) : "",
        boxed ? length_of(packet, drawer->box_depth.value) : "",
        boxed ? pair_of(packet, drawer->inside_width.value, drawer->inside_height.value) : "",
        slid ? length_of(packet, drawer->slide_length.value) : "",
        slid && drawer->slide_center.step_count != 0 ? length_of(packet, drawer->slide_center.value) : "",
        dw_arena_format(packet->arena, "%s%s%s", holds, holds[0] == '\0' || slide[0] == '\0' ? "" : "; ", slide),
    };
    dwi_flow_row(flow, drawer->address, cells);
}

static void write_bank(struct dwi_flow *flow, const struct dw_parts *parts, const struct dw_sized_bank *bank)
{
    const dw_dot fixed = 15500 + 3 * 10200 + 4200 + 4200 + 5600;
    const struct dwi_column columns[] = {
        {.title = "drawer", .width = 15500, .bold = true, .as_it_is = true, .wrap = true},
        {.title = "front, w \xC3\x97 h", .width = 10200, .align = DWI_RIGHT},
        {.title = "box, w \xC3\x97 h", .width = 10200, .align = DWI_RIGHT},
        {.title = "deep", .width = 4200, .align = DWI_RIGHT},
        {.title = "inside, w \xC3\x97 h", .width = 10200, .align = DWI_RIGHT},
        {.title = "slide", .width = 4200, .align = DWI_RIGHT},
        {.title = "its center", .width = 5600, .align = DWI_RIGHT},
        {.title = "", .width = rest_of(flow->packet, fixed), .wrap = true},
    };
    const char *heading = dwi_shorten_path(flow->packet->arena, bank->path, DWI_HEADING, true, flow->width / 2);
    dwi_flow_heading(flow, heading, name_of_slide(parts->sizing, slide_of(bank)));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t d = 0; d < bank->drawer_count; d++)
        write_drawer(flow, parts, bank, d);
    flow->column_count = 0;
}

void dwi_packet_drawers(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    size_t drawers = 0;
    for (size_t j = 0; j < layouts->job_count; j++)
        drawers += layouts->jobs[j]->sizing->drawer_count;
    if (drawers == 0)
        return;
    packet->part = "Drawers";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    dwi_flow_paragraph(&flow, (struct dwi_type){.ink = DW_TONE_GRAY}, "",
                       dw_arena_format(packet->arena, "Lengths in %s. A slide's center is measured from the case floor. The marks of a drawer's pieces begin as it does here.",
                                       packet->job->unit == DW_IN ? "inches" : "millimeters"));
    for (size_t j = 0; j < layouts->job_count; j++) {
        const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
        for (size_t c = 0; c < sizing->case_count; c++)
            for (size_t b = 0; b < sizing->cases[c].bank_count; b++)
                write_bank(&flow, layouts->jobs[j], &sizing->cases[c].banks[b]);
    }
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
}

static void write_cost(struct dwi_flow *flow, const char *title, const struct dw_cost_line *lines, size_t count, dw_money sum)
{
    struct dwi_packet *packet = flow->packet;
    const struct dw_currency currency = packet->job->shop.prices.currency;
    const struct dwi_column columns[] = {
        {.title = "", .width = 9000},
        {.title = "how", .width = rest_of(packet, 9000 + 2 * 9000), .wrap = true},
        {.title = "", .width = 9000, .align = DWI_RIGHT},
        {.title = "", .width = 9000, .align = DWI_RIGHT, .bold = true},
    };
    if (count == 0)
        return;
    dwi_flow_heading(flow, title, dw_money_show_mark(packet->arena, sum, currency));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < count; i++) {
        const struct dw_cost_line *line = &lines[i];
        for (size_t s = 0; s < line->step_count || s == 0; s++) {
            const bool only = line->step_count == 0;
            const char *cells[] = {s == 0 ? line->name : "", only ? "" : line->steps[s].words,
                                   only ? "" : dw_money_show(packet->arena, line->steps[s].amount, currency.decimals),
                                   s + 1 >= line->step_count ? dw_money_show(packet->arena, line->amount, currency.decimals) : ""};
            dwi_flow_row(flow, "", cells);
        }
    }
    flow->column_count = 0;
}

void dwi_packet_shopping(struct dwi_packet *packet)
{
    const struct dw_purchase *purchase = packet->purchase;
    packet->part = "Shopping list and cost";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t i = 0; i < purchase->order_count; i++)
        write_order(&flow, &purchase->orders[i]);
    for (size_t i = 0; i < purchase->caution_count; i++)
        dwi_flow_paragraph(&flow, (struct dwi_type){0}, "", dw_arena_format(packet->arena, "\xE2\x80\xA2 %s", purchase->cautions[i]));
    write_cost(&flow, "Money out now", purchase->money_out, purchase->money_out_count, purchase->total);
    write_cost(&flow, "What the job uses", purchase->consumed, purchase->consumed_count, purchase->cost);
}

/* ---- cautions --------------------------------------------------------------------------------------------- */

/* What the sizing advises for the bench. */
/* Does a job before this one say the same? */
static bool is_noted(const struct dw_layouts *layouts, size_t job, const char *note)
{
    for (size_t j = 0; j < job; j++)
        for (size_t n = 0; n < layouts->jobs[j]->sizing->note_count; n++)
            if (strcmp(layouts->jobs[j]->sizing->notes[n], note) == 0)
                return true;
    return false;
}

static void write_notes(struct dwi_flow *flow)
{
    const struct dw_layouts *layouts = flow->packet->purchase->layouts;
    bool any = false;
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t n = 0; n < layouts->jobs[j]->sizing->note_count; n++) {
            if (is_noted(layouts, j, layouts->jobs[j]->sizing->notes[n]))
                continue;
            if (!any)
                dwi_flow_heading(flow, "For the bench", "");
            any = true;
            dwi_flow_paragraph(flow, (struct dwi_type){0}, "", dw_arena_format(flow->packet->arena, "\xE2\x80\xA2 %s", layouts->jobs[j]->sizing->notes[n]));
        }
}

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
    const struct dwi_cautions cautions = dwi_cautions_of(packet);
    dwi_flow_gap(&flow, 600);
    if (cautions.count > 0)
        dwi_flow_table(&flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < cautions.count; i++) {
        const char *cells[] = {cautions.at[i].places, cautions.at[i].fault->wrong, cautions.at[i].fault->cure};
        dwi_flow_row(&flow, cautions.at[i].fault->address, cells);
    }
    flow.column_count = 0;
    write_notes(&flow);
}
