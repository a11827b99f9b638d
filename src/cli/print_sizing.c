/* print_sizing.c - fronts and boxes as a table a case, and the arithmetic behind each figure. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

struct dw_length_style cli_style(const struct dw_job *job)
{
    return (struct dw_length_style){.unit = job->unit, .decimals = -1};
}

const char *cli_length(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    return dw_length_show(arena, length, cli_style(job));
}

void cli_print_heading(const char *heading, struct dw_text *out)
{
    dw_text_addf(out, "\n%s\n", heading);
    for (size_t i = dw_utf8_count(heading); i > 0; i--)
        dw_text_add_char(out, '-');
    dw_text_add_char(out, '\n');
}

/* True when `path` is `wanted` or lies below it ("Bench" takes "Bench/2/3"). */
static bool lies_in(const char *path, const char *wanted)
{
    if (wanted == NULL)
        return true;
    const size_t length = strlen(wanted);
    return strncmp(path, wanted, length) == 0 && (path[length] == '\0' || path[length] == '/');
}

static const char *fill_word(enum dw_fill fill)
{
    switch (fill) {
    case DW_FILL_DOOR:
        return "door";
    case DW_FILL_OPEN:
        return "open";
    case DW_FILL_PANEL:
        return "panel";
    case DW_FILL_DRAWER:
        return "drawer";
    }
    return "";
}

static const char *fit_word(const struct dw_drawer *drawer)
{
    switch (drawer->fit.kind) {
    case DW_INSET:
        return "inset";
    case DW_OVERLAY:
        return "overlay";
    case DW_FULL_OVERLAY:
        return "full overlay";
    case DW_HALF_OVERLAY:
        return "half overlay";
    case DW_LIPPED:
        return "lipped";
    case DW_FIT_INHERIT:
        break;
    }
    return "";
}

static const char *figure_cell(struct dw_arena *arena, const struct dw_job *job, const struct dw_figure *figure)
{
    return figure->step_count == 0 ? "" : cli_length(arena, job, figure->value);
}

static void add_drawer(struct cli_table *table, const struct dw_job *job, const struct dw_sized_drawer *drawer)
{
    struct dw_arena *arena = table->arena;
    const bool boxed = drawer->box_width.step_count != 0;
    cli_table_add(table, drawer->path);
    cli_table_add(table, drawer->drawer->fill == DW_FILL_DRAWER ? fit_word(drawer->drawer) : fill_word(drawer->drawer->fill));
    cli_table_add(table, figure_cell(arena, job, &drawer->front_height));
    cli_table_add(table, figure_cell(arena, job, &drawer->front_width));
    cli_table_add(table, figure_cell(arena, job, &drawer->box_height));
    cli_table_add(table, figure_cell(arena, job, &drawer->box_width));
    cli_table_add(table, figure_cell(arena, job, &drawer->box_depth));
    cli_table_add(table, figure_cell(arena, job, &drawer->slide_length));
    cli_table_add(table, figure_cell(arena, job, &drawer->slide_center));
    cli_table_add(table, boxed ? cli_length(arena, job, drawer->side_clearance) : "");
}

static bool has_rails(const struct dw_sized_bank *bank)
{
    for (size_t i = 0; i < bank->rail_count; i++)
        if (bank->rails[i].kind != DW_RAIL_NONE)
            return true;
    return false;
}

/* What brings the slides of a bank out to the edge of its opening; the same for all its drawers. */
static void print_packing(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_bank *bank, struct dw_text *out)
{
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const dw_length *packing = bank->drawers[i].packing;
        if (packing[0] == 0 && packing[1] == 0)
            continue;
        dw_text_addf(out, "    slides packed out %s at the left, %s at the right\n", cli_length(arena, job, packing[0]),
                     cli_length(arena, job, packing[1]));
        return;
    }
}

static void print_bank(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_bank *bank, struct dw_text *out)
{
    const bool deep = bank->opening_depth.value != DW_LENGTH_UNSET;
    dw_text_addf(out, "  %s: opening %s wide, %s high, %s deep; gap %s%s\n", bank->path, cli_length(arena, job, bank->opening_width.value),
                 cli_length(arena, job, bank->opening_height.value), deep ? cli_length(arena, job, bank->opening_depth.value) : "not said how",
                 cli_length(arena, job, bank->gap.value), has_rails(bank) ? ", with rails" : "");
    if (bank->freed != NULL && bank->freed[0] != '\0')
        cli_wrap(out, "    ", "    ", bank->freed);
    print_packing(arena, job, bank, out);
}

static void print_figure(struct dw_arena *arena, const struct dw_job *job, const struct dw_figure *figure, struct dw_text *out)
{
    if (figure->step_count == 0)
        return;
    dw_text_addf(out, "    %s: %s\n", figure->name, cli_length(arena, job, figure->value));
    static const char *const titles[] = {"", "", "", ""};
    struct cli_table table = cli_table_in(arena, 4, titles, "lrrl");
    for (size_t i = 0; i < figure->step_count; i++) {
        const struct dw_step *step = &figure->steps[i];
        static const char *const signs[] = {[DW_START] = "",      [DW_ADD] = "+",        [DW_SUBTRACT] = "-", [DW_TIMES] = "x",
                                            [DW_DOWN_TO] = "down to", [DW_UP_TO] = "up to", [DW_AT_MOST] = "at most", [DW_AT_LEAST] = "at least"};
        const char *amount = step->operation == DW_TIMES
                                 ? dw_arena_format(arena, "%lld/%lld", (long long)step->numerator, (long long)step->denominator)
                                 : cli_length(arena, job, step->amount);
        cli_table_add(&table, signs[step->operation]);
        cli_table_add(&table, amount);
        cli_table_add(&table, dw_arena_format(arena, "= %s", cli_length(arena, job, step->after)));
        cli_table_add(&table, step->words);
    }
    table.titles = NULL;
    cli_table_print(&table, "      ", out);
}

static void print_figuring(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_drawer *drawer, struct dw_text *out)
{
    dw_text_addf(out, "\n  %s\n", drawer->path);
    const struct dw_figure *const figures[] = {&drawer->front_height, &drawer->front_width, &drawer->box_width, &drawer->box_height,
                                               &drawer->box_depth, &drawer->inside_width, &drawer->inside_height, &drawer->inside_depth,
                                               &drawer->slide_length, &drawer->slide_center, &drawer->set_back,
                                               &drawer->overlay[DW_TOP], &drawer->overlay[DW_BOTTOM], &drawer->overlay[DW_LEFT],
                                               &drawer->overlay[DW_RIGHT]};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        print_figure(arena, job, figures[i], out);
}

/* The openings and the gap that a bank's drawers start from. */
static void print_bank_figuring(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_bank *bank, struct dw_text *out)
{
    dw_text_addf(out, "\n  %s\n", bank->path);
    print_figure(arena, job, &bank->opening_width, out);
    print_figure(arena, job, &bank->opening_height, out);
    print_figure(arena, job, &bank->opening_depth, out);
    print_figure(arena, job, &bank->gap, out);
}

static bool any_lies_in(const struct dw_sized_bank *bank, const char *wanted)
{
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (lies_in(bank->drawers[d].path, wanted))
            return true;
    return false;
}

static void print_case_line(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_case *sized, struct dw_text *out)
{
    const struct dw_case *source = sized->source;
    const char *count = source->count > 1 ? dw_arena_format(arena, ", %lld alike", (long long)source->count) : "";
    cli_print_heading(dw_arena_format(arena, "%s: %s, %s wide, %s high, %s deep outside%s", sized->path,
                                      source->style == DW_FACE_FRAME ? "face frame" : "frameless", cli_length(arena, job, sized->width),
                                      cli_length(arena, job, sized->height), cli_length(arena, job, sized->depth), count),
                      out);
}

/* True when any drawer of the bank is to be shown. */
static bool is_wanted(const struct dw_sized_bank *bank, const char *only)
{
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (lies_in(bank->drawers[d].path, only))
            return true;
    return false;
}

/* One drawer that is asked for by its name is shown with its arithmetic. */
static bool names_drawer(const struct dw_sized_case *sized, const char *only)
{
    for (size_t b = 0; only != NULL && b < sized->bank_count; b++)
        for (size_t d = 0; d < sized->banks[b].drawer_count; d++)
            if (strcmp(sized->banks[b].drawers[d].path, only) == 0)
                return true;
    return false;
}

static void print_case(struct dw_arena *arena, const struct dw_job *job, const struct dw_sized_case *sized,
                       const struct cli_options *options, struct dw_text *out)
{
    static const char *const titles[] = {"drawer", "fit", "front high", "wide", "box high", "wide", "deep", "slide", "slide center up", "clearance a side"};
    struct cli_table table = cli_table_in(arena, 10, titles, "llrrrrrrrr");
    for (size_t b = 0; b < sized->bank_count; b++)
        for (size_t d = 0; d < sized->banks[b].drawer_count; d++)
            if (lies_in(sized->banks[b].drawers[d].path, options->only))
                add_drawer(&table, job, &sized->banks[b].drawers[d]);
    if (table.cell_count == 0)
        return;
    print_case_line(arena, job, sized, out);
    for (size_t b = 0; b < sized->bank_count; b++)
        if (is_wanted(&sized->banks[b], options->only))
            print_bank(arena, job, &sized->banks[b], out);
    dw_text_add_char(out, '\n');
    cli_table_print(&table, "  ", out);
    if (!options->figuring && !names_drawer(sized, options->only))
        return;
    for (size_t b = 0; b < sized->bank_count; b++) {
        if (any_lies_in(&sized->banks[b], options->only))
            print_bank_figuring(arena, job, &sized->banks[b], out);
        for (size_t d = 0; d < sized->banks[b].drawer_count; d++)
            if (lies_in(sized->banks[b].drawers[d].path, options->only))
                print_figuring(arena, job, &sized->banks[b].drawers[d], out);
    }
}

bool cli_print_sizing(struct dw_arena *arena, const struct dw_sizing *sizing, const struct cli_options *options, struct dw_text *out)
{
    const size_t before = out->length;
    for (size_t c = 0; c < sizing->case_count; c++)
        print_case(arena, sizing->job, &sizing->cases[c], options, out);
    if (out->length == before && options->only != NULL)
        return false;
    for (size_t i = 0; i < sizing->note_count; i++)
        cli_wrap(out, i == 0 ? "\n" : "", "", sizing->notes[i]);
    dw_text_addf(out, "\nAll lengths in %s; ~ marks a figure that is not exact as shown.\n",
                 sizing->job->unit == DW_IN ? "inches" : "millimeters");
    return true;
}
