/* ladderpage.c - the cut ladder: the page that leads at the saw. One row a setting, its distance large, a box to tick. */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "packet.h"

static const char *names(struct dw_arena *arena, const char *const *at, size_t count)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : " ", at[i]);
    return text.bytes;
}

/* Steps that say the same of several panels are one line: "S1 S2 S3: both long edges". Returns the step after them. */
static size_t add_steps(struct dw_text *text, const struct dw_ladder_rung *rung, size_t step, size_t end)
{
    const struct dw_ladder_step *said = &rung->steps[step];
    dw_text_addf(text, "%s%s", text->length == 0 ? "" : DWI_BREAK, said->from);
    for (step++; rung->kind == DW_LADDER_TRIM && step < end && strcmp(rung->steps[step].off, said->off) == 0; step++)
        dw_text_addf(text, " %s", rung->steps[step].from);
    if (rung->kind == DW_LADDER_TRIM)
        dw_text_addf(text, ": %s", said->off);
    else
        dw_text_addf(text, ": %zu off: %s%s%s", said->cuts, said->off, said->left[0] == '\0' ? "" : "; left ", said->left);
    return step;
}

/* A caution that stood at the rung before is not said over again. */
static void add_caution(struct dw_text *text, const struct dw_ladder_rung *rung, const struct dw_ladder_rung *before)
{
    const bool again = before != NULL && strcmp(before->caution, rung->caution) == 0;
    if (rung->caution[0] != '\0')
        dw_text_addf(text, DWI_BREAK "Care: %s", again ? "as above" : rung->caution);
}

/* A rung in rows of so few panels that each fits a page: a line for each panel, the caution in the last row. */
static void write_rung(struct dwi_flow *flow, const struct dw_ladder_rung *rung, const struct dw_ladder_rung *before)
{
    enum { ROW = 8, TRIM_ROW = 24 };
    const struct dwi_packet *packet = flow->packet;
    struct dw_arena *arena = packet->arena;
    const bool rough = dw_rung_is_rough(rung);
    size_t step = 0;
    do {
        const bool first = step == 0;
        const size_t row = rung->kind == DW_LADDER_TRIM ? TRIM_ROW : ROW;
        const size_t end = step + row < rung->step_count ? step + row : rung->step_count;
        struct dw_text what = dw_text_in(arena);
        while (step < end)
            step = add_steps(&what, rung, step, end);
        if (step == rung->step_count)
            add_caution(&what, rung, before);
        const char *cells[] = {"", dw_arena_format(arena, "%d", rung->number), dw_arena_format(arena, rough ? "%s, about" : "%s", dw_ladder_word(rung->kind)),
                               dwi_length(arena, packet->job, rough ? dw_rough_size(rung->setting, packet->job->unit) : rung->setting),
                               first ? dw_arena_format(arena, "%s, %s", rung->tool, rung->edge) : "as above", what.bytes,
                               first ? names(arena, rung->sheets, rung->sheet_count) : ""};
        dwi_flow_row(flow, "", cells);
    } while (step < rung->step_count);
}

static const char *caution_words(struct dw_arena *arena, const struct dw_ladder *ladder, size_t index)
{
    return dw_arena_format(arena, "\xE2\x80\xA2 %s", ladder->cautions[index]);
}

/* Room for the heading, the cautions and the first rungs: a ladder does not begin at the foot of a page. */
static dw_dot needed_of(const struct dwi_flow *flow, const struct dw_ladder *ladder)
{
    struct dw_arena *arena = flow->packet->arena;
    const dw_dot rungs = 4 * dwi_leading(DWI_BODY);
    dw_dot needed = 4 * DWI_HEADING + rungs;
    for (size_t i = 0; i < ladder->caution_count; i++) {
        const size_t lines = dwi_paragraph_lines(arena, (struct dwi_type){.most = flow->width}, caution_words(arena, ladder, i));
        needed += (dw_dot)lines * dwi_leading(DWI_BODY) + 300;
    }
    return needed;
}

static void write_ladder(struct dwi_flow *flow, const struct dw_material_layout *layout)
{
    struct dwi_packet *packet = flow->packet;
    struct dw_arena *arena = packet->arena;
    const struct dw_material *material = &packet->job->shop.materials[layout->problem->material];
    const struct dw_ladder *ladder = &layout->ladder;
    const dw_dot fixed = 1600 + 2600 + 6600 + 7800 + 12500 + 6400;
    const struct dwi_column columns[] = {
        {.title = "", .width = 1600, .tick = true},
        {.title = "", .width = 2600, .align = DWI_RIGHT, .bold = true},
        {.title = "cut", .width = 6600, .wrap = true},
        {.title = dw_arena_format(arena, "set to, %s", dw_unit_word(packet->job->unit)), .width = 7800, .align = DWI_RIGHT, .bold = true, .size = 1300},
        {.title = "on", .width = 12500, .wrap = true},
        {.title = "what", .width = packet->page_width - 2 * DWI_MARGIN - fixed, .wrap = true},
        {.title = "sheets", .width = 6400, .wrap = true, .as_it_is = true},
    };
    flow->column_count = 0;
    dwi_flow_need(flow, needed_of(flow, ladder));
    dwi_flow_heading(flow, material->name,
                     dw_arena_format(arena, "measures %s, kerf %s, %zu %s, %zu settings, %zu cuts", dwi_sold_length(arena, packet->job, material->thickness),
                                     dwi_sold_length(arena, packet->job, layout->problem->request.kerf), layout->sheet_count,
                                     layout->sheet_count == 1 ? "sheet" : "sheets", ladder->settings, ladder->cuts));
    for (size_t i = 0; i < ladder->caution_count; i++)
        dwi_flow_paragraph(flow, (struct dwi_type){0}, "", caution_words(arena, ladder, i));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < ladder->rung_count; i++)
        write_rung(flow, &ladder->rungs[i], i == 0 ? NULL : &ladder->rungs[i - 1]);
    flow->column_count = 0;
}

void dwi_packet_ladder(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Cut ladder";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t m = 0; m < layouts->material_count; m++)
        write_ladder(&flow, &layouts->materials[m]);
}
