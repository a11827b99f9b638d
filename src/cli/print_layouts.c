/* print_layouts.c - for each material the cut ladder first, then what lies on each sheet. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

static void count_node(const struct dw_layout_node *node, size_t *parts, size_t *kept)
{
    if (node->use == DW_NODE_PART)
        ++*parts;
    if (node->use == DW_NODE_KEEP)
        ++*kept;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        count_node(&node->pieces[i], parts, kept);
}

static void name_kept(struct dw_arena *arena, const struct dw_job *job, const struct dw_layout_node *node, struct dw_text *text)
{
    if (node->use == DW_NODE_KEEP)
        dw_text_addf(text, "%s%s x %s", text->length == 0 ? "" : ", ", cli_length(arena, job, node->length), cli_length(arena, job, node->width));
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        name_kept(arena, job, &node->pieces[i], text);
}

static const char *sold(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    return dw_length_show_as_sold(arena, length, cli_style(job));
}

static void add_sheet(struct cli_table *table, const struct dw_job *job, const struct dw_material_layout *layout, const struct dw_layout_sheet *sheet)
{
    struct dw_arena *arena = table->arena;
    const struct dw_sheet_source *source = &layout->problem->sources[sheet->source];
    size_t parts = 0;
    size_t kept = 0;
    count_node(&sheet->root, &parts, &kept);
    struct dw_text names = dw_text_in(arena);
    name_kept(arena, job, &sheet->root, &names);
    const struct dw_layout_sheet *like = &layout->sheets[sheet->like];
    cli_table_add(table, sheet->name);
    cli_table_add(table, dw_arena_format(arena, "%s x %s", sold(arena, job, source->length), sold(arena, job, source->width)));
    cli_table_add(table, dw_arena_format(arena, "grain along %s", sold(arena, job, source->grain_across ? source->width : source->length)));
    cli_table_add(table, !source->owned ? source->supplier : dw_arena_format(arena, strchr(source->id, '/') != NULL ? "left %s" : "rack %s", source->id));
    cli_table_add(table, dw_arena_format(arena, "%zu %s", parts, parts == 1 ? "part" : "parts"));
    cli_table_add(table, like == sheet ? "" : dw_arena_format(arena, "cut like %s", like->name));
    cli_table_add(table, kept == 0 ? "" : dw_arena_format(arena, "keep %s", names.bytes));
    cli_table_add(table, source->note[0] == '\0' ? "" : dw_arena_format(arena, "\"%s\"", source->note));
}

static void print_sheets(struct dw_arena *arena, const struct dw_job *job, const struct dw_material_layout *layout, struct dw_text *out)
{
    struct cli_table table = cli_table_in(arena, 8, NULL, "llllllll");
    for (size_t s = 0; s < layout->sheet_count; s++)
        add_sheet(&table, job, layout, &layout->sheets[s]);
    dw_text_add(out, "\n  Sheets\n");
    cli_table_print(&table, "    ", out);
}

/* One panel in hand: its name, how many come off, what they are called, what is left. */
static void print_step(struct dw_arena *arena, const struct dw_ladder_rung *rung, const struct dw_ladder_step *step, int width, struct dw_text *out)
{
    const bool trim = rung->kind == DW_LADDER_TRIM;
    const char *head = dw_arena_format(arena, "        %-*s  ", width, step->from);
    const char *hang = dw_arena_format(arena, "%*s", width + 17, "");
    const char *words = trim ? step->off
                             : dw_arena_format(arena, "%2zu off: %s%s%s", step->cuts, step->off, step->left[0] == '\0' ? "" : "; left ", step->left);
    cli_wrap(out, head, hang, words);
}

static void print_rung(struct dw_arena *arena, const struct dw_job *job, const struct dw_ladder_rung *rung, struct dw_text *out)
{
    int width = 0;
    for (size_t i = 0; i < rung->step_count; i++)
        width = (int)dw_utf8_count(rung->steps[i].from) > width ? (int)dw_utf8_count(rung->steps[i].from) : width;
    const bool rough = dw_rung_is_rough(rung);
    dw_text_addf(out, "   %2d. %s, %s%s: %s, %s; %zu %s\n", rung->number, dw_ladder_word(rung->kind), rough ? "about " : "",
                 cli_length(arena, job, rough ? dw_rough_size(rung->setting, job->unit) : rung->setting), rung->tool, rung->edge, rung->cut_count, rung->cut_count == 1 ? "cut" : "cuts");
    for (size_t i = 0; i < rung->step_count; i++)
        print_step(arena, rung, &rung->steps[i], width, out);
    if (rung->caution[0] != '\0')
        cli_wrap(out, "        Care: ", "        ", rung->caution);
}

static void print_ladder(struct dw_arena *arena, const struct dw_job *job, const struct dw_material_layout *layout, struct dw_text *out)
{
    const struct dw_ladder *ladder = &layout->ladder;
    bool rough = false;
    for (size_t i = 0; i < ladder->rung_count; i++)
        rough = rough || dw_rung_is_rough(&ladder->rungs[i]);
    dw_text_addf(out, "\n  Cut ladder: %zu %s besides trims%s, %zu %s\n", ladder->settings,
                 ladder->settings == 1 ? "setting" : "settings", rough ? " and rough cuts" : "", ladder->cuts, ladder->cuts == 1 ? "cut" : "cuts");
    for (size_t i = 0; i < ladder->rung_count; i++)
        print_rung(arena, job, &ladder->rungs[i], out);
    for (size_t i = 0; i < ladder->caution_count; i++)
        cli_wrap(out, "    * ", "      ", ladder->cautions[i]);
}

void cli_print_layouts(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_layouts *layouts = purchase->layouts;
    const struct dw_job *job = layouts->jobs[0]->sizing->job;
    for (size_t m = 0; m < layouts->material_count; m++) {
        const struct dw_material_layout *layout = &layouts->materials[m];
        const struct dw_material *material = &job->shop.materials[layout->problem->material];
        cli_print_heading(dw_arena_format(arena, "Cutting %s", material->name), out);
        const char *words = purchase->coupled ? "materials are bought together"
                                              : dw_purchase_bound_words(arena, layout->cost, layout->lower_bound, layout->proved, job->shop.prices.currency);
        dw_text_addf(out, "  %zu %s, kerf %s, %s: %s\n", layout->sheet_count, layout->sheet_count == 1 ? "sheet" : "sheets",
                     cli_length(arena, job, layout->problem->request.kerf),
                     dw_money_show_mark(arena, layout->cost, job->shop.prices.currency), words);
        print_ladder(arena, job, layout, out);
        print_sheets(arena, job, layout, out);
    }
}
