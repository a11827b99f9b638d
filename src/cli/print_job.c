/* print_job.c - what a job asks for once its defaults are filled in, and the defaults themselves. */
#include "cli.h"

#include <drawerwright/memory.h>

static size_t count_drawers(const struct dw_case *of)
{
    size_t count = 0;
    for (size_t b = 0; b < of->bank_count; b++)
        for (size_t d = 0; d < of->banks[b].drawer_count; d++)
            count += of->banks[b].drawers[d].fill == DW_FILL_DRAWER ? 1U : 0U;
    return count * (size_t)of->count;
}

static void print_cases(struct dw_arena *arena, const struct dw_job *job, struct dw_text *out)
{
    for (size_t c = 0; c < job->case_count; c++) {
        const struct dw_case *of = &job->cases[c];
        dw_text_addf(out, "  %s: %s%s, %zu %s, %zu drawers\n", of->name, of->style == DW_FACE_FRAME ? "face frame" : "frameless",
                     of->count > 1 ? dw_arena_format(arena, " (%lld alike)", (long long)of->count) : "", of->bank_count,
                     of->bank_count == 1 ? "bank" : "banks", count_drawers(of));
    }
    if (job->extra_count != 0)
        dw_text_addf(out, "  %zu %s listed by hand\n", job->extra_count, job->extra_count == 1 ? "part" : "parts");
}

static void print_materials(struct dw_arena *arena, const struct dw_job *job, struct dw_text *out)
{
    static const char *const titles[] = {"material", "measures", "sheet sizes"};
    struct cli_table table = cli_table_in(arena, 3, titles, "lrl");
    for (size_t m = 0; m < job->shop.material_count; m++) {
        const struct dw_material *material = &job->shop.materials[m];
        struct dw_text sizes = dw_text_in(arena);
        for (size_t s = 0; s < material->sheet_count; s++)
            dw_text_addf(&sizes, "%s%s x %s", s == 0 ? "" : ", ", dw_length_show_as_sold(arena, material->sheets[s].length, cli_style(job)),
                         dw_length_show_as_sold(arena, material->sheets[s].width, cli_style(job)));
        cli_table_add(&table, material->name);
        cli_table_add(&table, dw_length_show_as_sold(arena, material->thickness, cli_style(job)));
        cli_table_add(&table, sizes.bytes);
    }
    dw_text_add_char(out, '\n');
    cli_table_print(&table, "  ", out);
}

static void print_defaults(struct dw_arena *arena, const struct dw_job *job, struct dw_text *out)
{
    static const char *const titles[] = {"place", "default"};
    struct cli_table table = cli_table_in(arena, 2, titles, "ll");
    size_t count = 0;
    const struct dw_default *defaults = dw_job_defaults(arena, &count);
    for (size_t i = 0; i < count; i++) {
        const char *value = job->unit == DW_IN ? defaults[i].inch : defaults[i].metric;
        if (value == NULL || value[0] == '\0')
            continue;
        cli_table_add(&table, defaults[i].address);
        cli_table_add(&table, value);
    }
    dw_text_add(out, "\nWhat a job does not say is taken from these defaults (docs/job.md tells what each means):\n\n");
    cli_table_print(&table, "  ", out);
}

void cli_print_job(struct dw_arena *arena, const struct dw_job *job, struct dw_text *out)
{
    dw_text_addf(out, "%s: no errors\n\n", job->name);
    print_cases(arena, job, out);
    print_materials(arena, job, out);
    print_defaults(arena, job, out);
}
