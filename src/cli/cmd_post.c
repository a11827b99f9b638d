/* cmd_post.c - enters a plan in the rack: the offcuts that it cuts up leave, the ones worth keeping come in with their numbers. */
#include "cli.h"

#include <drawerwright/memory.h>
#include <drawerwright/plan.h>
#include <drawerwright/rack.h>

struct post_call {
    const struct cli_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_rack *rack;
    enum dw_status status;
};

static void body(void *context)
{
    struct post_call *call = context;
    const struct dw_plan *plan = NULL;
    struct dw_posting posting = {.plan = ""};
    call->status = dw_plan_read_file(call->options->files[0], call->arena, call->faults, &plan);
    if (call->status == DW_DONE)
        call->status = dw_run_posting_known(call->rack, plan, call->arena, call->faults, &posting);
    if (call->status == DW_DONE)
        call->status = dw_rack_post(call->rack, &posting, call->faults);
    if (call->status == DW_DONE)
        printf("Plan %s is entered: %zu out of the rack, %zu into it. Undo: drawerwright rack undo %s\n", posting.plan, posting.used_count,
               posting.kept_count, posting.plan);
}

enum dw_status cmd_post(const struct cli_options *options)
{
    struct post_call call = {.options = options, .arena = dw_arena_new(), .faults = dw_faults_new(), .status = DW_SURROUNDINGS};
    if (call.arena != NULL && call.faults != NULL) {
        call.status = dw_rack_open(options->rack_file == NULL ? "rack.db" : options->rack_file, call.faults, &call.rack);
        if (call.status == DW_DONE && !dw_arena_guard(call.arena, body, &call))
            call.status = DW_SURROUNDINGS;
        cli_report(call.faults, NULL, options->quiet);
    }
    dw_rack_close(call.rack);
    dw_faults_free(call.faults);
    dw_arena_free(call.arena);
    return call.status;
}
