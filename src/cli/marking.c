/* marking.c - what the commands about a plan's progress share: the ledger, and the plan that is spoken of. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/plan.h>

const char *cli_ledger(const struct cli_options *options)
{
    return options->rack_file == NULL ? "rack.db" : options->rack_file;
}

enum dw_status cli_enter_plan(struct dw_rack *rack, const char *path, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan)
{
    struct dw_work_plan work;
    enum dw_status status = dw_plan_read_file(path, arena, faults, plan);
    if (status == DW_DONE)
        status = dw_run_work(*plan, arena, faults, &work);
    if (status == DW_DONE)
        status = dw_progress_enter(rack, &work, faults);
    return status;
}

/* The mark of the plan spoken of: of the file, or as it stands. */
static enum dw_status find_plan(struct cli_marking *marking)
{
    const char *word = marking->options->files[0];
    const size_t length = strlen(word);
    const struct dw_plan *plan = NULL;
    marking->plan = word;
    if (length < 5 || strcmp(word + length - 5, ".json") != 0)
        return DW_DONE;
    const enum dw_status status = cli_enter_plan(marking->rack, word, marking->arena, marking->faults, &plan);
    if (status == DW_DONE)
        marking->plan = plan->plan_id;
    return status;
}

static void body(void *context)
{
    struct cli_marking *marking = context;
    marking->out = dw_text_in(marking->arena);
    marking->status = find_plan(marking);
    if (marking->status == DW_DONE)
        marking->status = marking->run(marking);
    if (marking->out.bytes != NULL)
        (void)fwrite(marking->out.bytes, 1, marking->out.length, stdout);
}

enum dw_status cli_marking_run(const struct cli_options *options, enum dw_status (*run)(struct cli_marking *marking))
{
    struct cli_marking marking = {.options = options, .run = run, .arena = dw_arena_new(), .faults = dw_faults_new(), .status = DW_SURROUNDINGS};
    if (marking.arena != NULL && marking.faults != NULL) {
        marking.status = dw_rack_open(cli_ledger(options), marking.faults, &marking.rack);
        if (marking.status == DW_DONE && !dw_arena_guard(marking.arena, body, &marking))
            marking.status = DW_SURROUNDINGS;
        cli_report(marking.faults, NULL, options->quiet);
    }
    dw_rack_close(marking.rack);
    dw_faults_free(marking.faults);
    dw_arena_free(marking.arena);
    return marking.status;
}

static enum dw_unit unit_of(const struct cli_marking *marking)
{
    return marking->options->units != NULL && strcmp(marking->options->units, "mm") == 0 ? DW_MILLIMETER : DW_IN;
}

const char *cli_marking_length(const struct cli_marking *marking, dw_length length)
{
    return dw_length_show_as_sold(marking->arena, length, (struct dw_length_style){.unit = unit_of(marking), .decimals = -1});
}

const char *cli_mark_words(struct cli_marking *marking, const struct dw_mark *mark)
{
    return dw_mark_words(mark, unit_of(marking), marking->arena);
}
