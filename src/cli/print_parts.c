/* print_parts.c - the parts list, material by material, with what is done to each part after it is cut to size. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

static const char *grain_word(enum dw_grain grain)
{
    switch (grain) {
    case DW_ALONG:
        return "along";
    case DW_ACROSS:
        return "across";
    case DW_FREE:
        return "free";
    }
    return "";
}

/* "B1s B2s ... (8)": all marks when few, else the first and last. */
static const char *marks(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->count; i++) {
        if (part->count > 6 && i == 3)
            dw_text_add(&text, "... ");
        if (part->count <= 6 || i < 3 || i == part->count - 1)
            dw_text_addf(&text, "%s ", part->pieces[i].mark);
    }
    if (text.length > 0)
        text.bytes[--text.length] = '\0';
    return text.bytes;
}

static void add_part(struct cli_table *table, const struct dw_job *job, const struct dw_part *part)
{
    struct dw_arena *arena = table->arena;
    cli_table_add(table, part->id);
    cli_table_add(table, dw_arena_format(arena, "%zu", part->count));
    cli_table_add(table, part->name);
    cli_table_add(table, cli_length(arena, job, part->length.value));
    cli_table_add(table, cli_length(arena, job, part->width.value));
    cli_table_add(table, grain_word(part->grain));
    cli_table_add(table, marks(arena, part));
}

static void print_material(struct dw_arena *arena, const struct dw_parts *parts, size_t material, struct dw_text *out)
{
    static const char *const titles[] = {"part", "pieces", "what", "length", "width", "grain", "marks"};
    const struct dw_job *job = parts->sizing->job;
    struct cli_table table = cli_table_in(arena, 7, titles, "lrlrrll");
    for (size_t i = 0; i < parts->count; i++)
        if (parts->at[i].material == material)
            add_part(&table, job, &parts->at[i]);
    if (table.cell_count == 0)
        return;
    const struct dw_material *of = &job->shop.materials[material];
    dw_text_addf(out, "\n  %s (measures %s)\n", of->name, dw_length_show_as_sold(arena, of->thickness, cli_style(job)));
    cli_table_print(&table, "    ", out);
}

/* True when an earlier part, or this one earlier, has work in the same words. */
static bool told_before(const struct dw_parts *parts, size_t part, size_t work)
{
    const char *words = parts->at[part].works[work].words;
    for (size_t p = 0; p <= part; p++)
        for (size_t w = 0; w < (p == part ? work : parts->at[p].work_count); w++)
            if (strcmp(parts->at[p].works[w].words, words) == 0)
                return true;
    return false;
}

/* "p1 p2 side", "p4 box front, p7 back": all parts with work in these words. */
static const char *who(struct dw_arena *arena, const struct dw_parts *parts, const char *words)
{
    struct dw_text text = dw_text_in(arena);
    const char *last = NULL;
    for (size_t p = 0; p < parts->count; p++)
        for (size_t w = 0; w < parts->at[p].work_count; w++) {
            if (strcmp(parts->at[p].works[w].words, words) != 0)
                continue;
            const bool same = last != NULL && strcmp(last, parts->at[p].name) == 0;
            if (last != NULL && !same)
                dw_text_addf(&text, " %s,", last);
            dw_text_addf(&text, "%s%s", last == NULL ? "" : " ", parts->at[p].id);
            last = parts->at[p].name;
            break;
        }
    dw_text_addf(&text, " %s", last == NULL ? "" : last);
    return text.bytes;
}

static void print_works(const struct dw_parts *parts, struct dw_text *out)
{
    bool any = false;
    for (size_t i = 0; i < parts->count; i++)
        any = any || parts->at[i].work_count != 0;
    if (!any)
        return;
    dw_text_add(out, "\n  After cutting to size\n");
    for (size_t i = 0; i < parts->count; i++)
        for (size_t w = 0; w < parts->at[i].work_count; w++)
            if (!told_before(parts, i, w)) {
                const char *words = parts->at[i].works[w].words;
                cli_wrap(out, "    * ", "      ", dw_arena_format(out->arena, "%s: %s", who(out->arena, parts, words), words));
            }
}

void cli_print_parts(struct dw_arena *arena, const struct dw_parts *parts, struct dw_text *out)
{
    const struct dw_job *job = parts->sizing->job;
    cli_print_heading(dw_arena_format(arena, "Parts of %s", job->name), out);
    for (size_t m = 0; m < job->shop.material_count; m++)
        print_material(arena, parts, m, out);
    print_works(parts, out);
    dw_text_add(out, "\n  Grain: along the part's length, across it, or free to be turned.\n");
}
