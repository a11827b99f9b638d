/* replan.c - see replan.h. */
#include "replan.h"

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "plans.h"

bool dwi_replan_is_asked(const struct dwi_replan *replan)
{
    return replan->follows[0] != '\0' || replan->only[0] != '\0';
}

/* The ledger is open while nothing allocates outside the rack's own guards. */
static enum dw_status read_progress(struct dwi_replan *replan, const char *folder, struct dw_arena *arena, struct dw_faults *faults)
{
    const char *path = dw_arena_format(arena, "%s/rack.db", folder);
    struct dw_rack *rack = NULL;
    enum dw_status status = dw_rack_open(path, faults, &rack);
    if (status == DW_DONE)
        status = dw_progress_read(rack, replan->follows, arena, faults, &replan->progress);
    dw_rack_close(rack);
    return status;
}

enum dw_status dwi_replan_prepare(struct dwi_replan *replan, const char *folder, struct dw_layout_options *options, struct dw_arena *arena,
                                  struct dw_faults *faults)
{
    enum dw_status status = dw_run_only(replan->only, arena, faults, &replan->rest);
    if (status != DW_DONE || replan->follows[0] == '\0')
        return status;
    status = read_progress(replan, folder, arena, faults);
    if (status == DW_DONE)
        status = dw_run_follow(replan->progress, arena, faults, &replan->rest, options);
    if (status == DW_DONE)
        status = dwi_plans_open(folder, &replan->progress->plan, arena, faults, &replan->before);
    return status;
}

void dwi_replan_add_lines(const struct dw_run_changes *changes, struct dw_text *out)
{
    dw_text_add_char(out, '[');
    for (size_t i = 0; i < changes->count; i++) {
        dw_text_add(out, i == 0 ? "" : ", ");
        dw_json_quote(changes->lines[i], out);
    }
    dw_text_add_char(out, ']');
}

enum dw_status dwi_replan_tell(const struct dwi_replan *replan, const struct dw_job *job, const char *bytes, size_t length, struct dw_arena *arena,
                               struct dw_faults *faults, struct dw_text *out)
{
    const struct dw_plan *plan = NULL;
    struct dw_run_changes changes = {.count = 0};
    enum dw_status status = DW_DONE;
    if (replan->before != NULL)
        status = dw_plan_read_text(bytes, length, arena, faults, &plan);
    if (plan != NULL)
        status = dw_run_changes(replan->before, plan, replan->progress, job->unit, job->shop.prices.currency.decimals, arena, faults, &changes);
    dw_text_add(out, ", \"follows\": ");
    dw_json_quote(replan->follows, out);
    dw_text_add(out, ", \"changes\": ");
    dwi_replan_add_lines(&changes, out);
    return status;
}
