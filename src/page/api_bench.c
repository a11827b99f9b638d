/* api_bench.c - what the page may ask of the bench: which plan is worked from and how far it is; enter a plan, mark, take back, look a mark up. */
#include "at_bench.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "plans.h"
#include "replan.h"
#include "store.h"

const char *dwi_bench_asked(struct call *call)
{
    const char *mark = dwi_call_argument(call, "plan");
    if (dwi_plans_is_mark(mark))
        return mark;
    dw_error(call->faults, DW_INPUT, "bad-mark", "plan", "this is no plan's mark\nsix letters and digits, as they stand on every page and label");
    return "";
}

/* ---- which plan ------------------------------------------------------------------------------------------------- */

/* The names of a plan's jobs stand with commas between. */
static bool names_job(const char *jobs, const char *id)
{
    const size_t length = strlen(id);
    for (const char *at = jobs; at[0] != '\0';) {
        const size_t word = strcspn(at, ",");
        if (word == length && strncmp(at, id, length) == 0)
            return true;
        at += word;
        at += strspn(at, ", ");
    }
    return false;
}

static const struct dw_entered_plan *find_plan(const struct dw_entered_plans *plans, const char *mark)
{
    for (size_t i = 0; i < plans->count; i++)
        if (strcmp(plans->at[i].mark, mark) == 0)
            return &plans->at[i];
    return NULL;
}

/* The last of those that follow one another from `mark` on; a plan follows an older one, so that there is an end. */
static const struct dw_entered_plan *last_plan(const struct dw_entered_plans *plans, const char *mark)
{
    const struct dw_entered_plan *plan = find_plan(plans, mark);
    for (const struct dw_entered_plan *next = plan; next != NULL && next->replaced_by[0] != '\0';) {
        next = find_plan(plans, next->replaced_by);
        plan = next == NULL ? plan : next;
    }
    return plan;
}

/* The plan asked for, or what replaced it; else the newest that is made of the job. NULL when there is none. */
static const struct dw_entered_plan *choose(const struct call *call, const struct dw_entered_plans *plans)
{
    const struct dw_entered_plan *found = last_plan(plans, dwi_call_argument(call, "plan"));
    for (size_t i = plans->count; i > 0 && found == NULL; i--)
        if (plans->at[i - 1].replaced_by[0] == '\0' && names_job(plans->at[i - 1].jobs, dwi_call_argument(call, "id")))
            found = &plans->at[i - 1];
    return found;
}

static void add_plans(struct call *call, const struct dw_entered_plans *plans)
{
    const char *lead = "";
    for (size_t i = 0; i < plans->count; i++) {
        if (plans->at[i].replaced_by[0] != '\0')
            continue;
        dw_text_add(&call->out, lead);
        dwi_call_member(call, "{\"mark\": ", plans->at[i].mark);
        dwi_call_member(call, ", \"jobs\": ", plans->at[i].jobs);
        dwi_call_member(call, ", \"when\": ", plans->at[i].when);
        dw_text_add(&call->out, names_job(plans->at[i].jobs, dwi_call_argument(call, "id")) ? ", \"own\": true}" : ", \"own\": false}");
        lead = ", ";
    }
}

/* Short, and another one whenever anything that is told has changed. */
static const char *tag_of(const struct call *call, const struct dw_entered_plans *plans, const struct dw_progress *progress)
{
    if (progress == NULL)
        return dw_arena_format(call->arena, "%zu", plans->count);
    const bool file = dwi_plans_has(call->ask->folder, progress->plan.mark, "json", call->arena);
    return dw_arena_format(call->arena, "%zu %s %" PRId64 "%s%s", plans->count, progress->plan.mark, progress->last, progress->posted ? " posted" : "", file ? " file" : "");
}

static enum dw_status tell_state(struct dwi_use *use)
{
    struct call *call = use->call;
    struct dw_entered_plans plans;
    const struct dw_progress *progress = NULL;
    enum dw_status status = dw_progress_plans(use->rack, call->arena, call->faults, &plans);
    const struct dw_entered_plan *chosen = status == DW_DONE ? choose(call, &plans) : NULL;
    if (chosen != NULL)
        status = dw_progress_read(use->rack, chosen->mark, call->arena, call->faults, &progress);
    if (status != DW_DONE)
        return status;
    const char *tag = tag_of(call, &plans, progress);
    if (strcmp(tag, dwi_call_argument(call, "tag")) == 0) {
        dw_text_add(&call->out, "{\"same\": true}\n");
        return DW_DONE;
    }
    dwi_call_member(call, "{\"tag\": ", tag);
    dw_text_add(&call->out, ", \"plans\": [");
    add_plans(call, &plans);
    dw_text_add(&call->out, "], \"plan\": ");
    if (progress == NULL)
        dw_text_add(&call->out, "null");
    else
        dwi_bench_tell(call, progress);
    dw_text_add(&call->out, "}\n");
    return DW_DONE;
}

/* {"tag", "plans": [{"mark", "jobs", "when", "own"}], "plan": {...} or null}; or {"same": true} where the tag of the query still holds. */
struct dwi_answer dwi_bench_state(struct call *call)
{
    return dwi_call_with_rack(call, tell_state);
}

/* ---- entering --------------------------------------------------------------------------------------------------- */

/* A plan's file as it is entered: kept first, entered last, so that no plan is entered whose file is not there. */
struct entering {
    const char *bytes;
    size_t length;
    const struct dw_plan *plan;
    struct dw_work_plan work;
};

static enum dw_status read_plan(struct call *call, struct entering *entering)
{
    enum dw_status status = dw_plan_read_text(entering->bytes, entering->length, call->arena, call->faults, &entering->plan);
    if (status == DW_DONE)
        status = dw_run_work(entering->plan, call->arena, call->faults, &entering->work);
    if (status == DW_DONE && !dwi_plans_is_mark(entering->plan->plan_id)) {
        dw_error(call->faults, DW_INPUT, "bad-mark", "plan_id", "the file's mark is none of this program's\nthe file as it was written");
        status = DW_INPUT;
    }
    return status;
}

static enum dw_status enter(struct dwi_use *use, struct entering *entering)
{
    struct call *call = use->call;
    const char *mark = entering->plan->plan_id;
    enum dw_status status = dwi_plans_keep(call->ask->folder, mark, "json", entering->bytes, entering->length, call->arena, call->faults);
    if (status == DW_DONE)
        status = dw_progress_enter(use->rack, &entering->work, call->faults);
    if (status == DW_DONE) {
        dwi_call_member(call, "{\"mark\": ", mark);
        dw_text_add(&call->out, "}\n");
    }
    return status;
}

static enum dw_status no_longer_at_hand(struct call *call)
{
    dw_error(call->faults, DW_IMPOSSIBLE, "no-plan", "run", "this plan is no longer at hand\nplan again");
    return DW_IMPOSSIBLE;
}

static const char *packet_of(struct call *call, size_t *length)
{
    const struct dw_packet_options options = {.paper = strcmp(dwi_call_argument(call, "paper"), "a4") == 0 ? DW_A4 : DW_LETTER,
                                              .labels = dwi_call_says_yes(call, "labels"),
                                              .story_stick = dwi_call_says_yes(call, "sticks")};
    return dwi_worker_packet(dwi_call_worker(call), dwi_call_number(call, "run"), &options, call->arena, call->faults, length);
}

static enum dw_status enter_run(struct dwi_use *use)
{
    struct call *call = use->call;
    struct entering entering = {.length = 0};
    size_t length = 0;
    entering.bytes = dwi_worker_plan(dwi_call_worker(call), dwi_call_number(call, "run"), call->arena, &entering.length);
    const char *packet = entering.bytes == NULL ? NULL : packet_of(call, &length);
    if (packet == NULL)
        return call->faults->errors > 0 ? call->faults->status : no_longer_at_hand(call);
    enum dw_status status = read_plan(call, &entering);
    if (status == DW_DONE)
        status = dwi_plans_keep(call->ask->folder, entering.plan->plan_id, "pdf", packet, length, call->arena, call->faults);
    return status == DW_DONE ? enter(use, &entering) : status;
}

/* The plan of a finished run; its packet is kept beside its file. {"mark"} */
struct dwi_answer dwi_bench_enter(struct call *call)
{
    return dwi_call_with_rack(call, enter_run);
}

static enum dw_status enter_file(struct dwi_use *use)
{
    struct call *call = use->call;
    struct entering entering = {.bytes = call->ask->body, .length = call->ask->body_length};
    const enum dw_status status = read_plan(call, &entering);
    return status == DW_DONE ? enter(use, &entering) : status;
}

/* A plan.json of the command line, in the body. */
struct dwi_answer dwi_bench_file(struct call *call)
{
    return dwi_call_with_rack(call, enter_file);
}

struct dwi_answer dwi_bench_packet(struct call *call)
{
    size_t length = 0;
    const char *mark = dwi_bench_asked(call);
    const char *bytes = mark[0] == '\0' ? NULL : dwi_plans_read(call->ask->folder, mark, "pdf", call->arena, call->faults, &length);
    if (bytes == NULL)
        return dwi_call_faults(call, call->faults->status);
    return (struct dwi_answer){.status = 200, .type = "application/pdf", .bytes = bytes, .length = length};
}

/* ---- marking ---------------------------------------------------------------------------------------------------- */

static void read_depth(struct call *call, const char *what, struct dw_mark *mark)
{
    const char *why = NULL;
    if (!dw_length_parse(dwi_call_argument(call, "depth"), dwi_call_unit(call), &mark->depth, &why) || mark->depth <= 0)
        dw_error(call->faults, DW_INPUT, "bad-length", "depth", "this is no %s\n%s", what, why == NULL ? "more than 0" : why);
}

static void read_edge(struct call *call, struct dw_mark *mark)
{
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    mark->edge = -1;
    for (int i = 0; i < 4; i++)
        if (strcmp(edges[i], dwi_call_argument(call, "edge")) == 0)
            mark->edge = i;
    if (mark->edge < 0)
        dw_error(call->faults, DW_INPUT, "unknown-word", "edge", "this is no edge\nleft, right, bottom or top, as the sheet is drawn");
}

static struct dw_mark read_mark(struct call *call)
{
    static const char *const words[] = {[DW_MARK_CUT] = "cut", [DW_MARK_SHEET] = "sheet", [DW_MARK_SPOILED] = "spoiled", [DW_MARK_DAMAGED] = "damaged",
                                        [DW_MARK_NOTE] = "note", [DW_MARK_MEASURED] = "measured"};
    struct dw_mark mark = {.kind = DW_MARK_ENTERED, .target = dwi_call_argument(call, "target"), .note = dwi_call_argument(call, "note"),
                           .step = dwi_call_number(call, "step")};
    for (size_t i = DW_MARK_CUT; i < sizeof words / sizeof *words; i++)
        if (words[i] != NULL && strcmp(words[i], dwi_call_argument(call, "what")) == 0)
            mark.kind = (enum dw_mark_kind)i;
    if (mark.kind == DW_MARK_ENTERED)
        dw_error(call->faults, DW_INPUT, "unknown-word", "what", "this cannot be marked\ncut, sheet, spoiled, damaged, measured or note");
    if (mark.kind == DW_MARK_DAMAGED)
        read_edge(call, &mark);
    if (mark.kind == DW_MARK_DAMAGED || mark.kind == DW_MARK_MEASURED)
        read_depth(call, mark.kind == DW_MARK_DAMAGED ? "depth" : "thickness", &mark);
    if (mark.target[0] == '\0' || !dw_utf8_is_clean(mark.target, strlen(mark.target)) || !dw_utf8_is_clean(mark.note, strlen(mark.note)))
        dw_error(call->faults, DW_INPUT, "bad-note", "target", "these words hold what cannot be shown, or nothing\nwrite them anew");
    return mark;
}

static enum dw_status mark_now(struct dwi_use *use)
{
    struct call *call = use->call;
    const char *plan = dwi_bench_asked(call);
    const struct dw_mark mark = read_mark(call);
    return call->faults->errors > 0 ? call->faults->status : dw_progress_mark(use->rack, plan, &mark, call->faults);
}

struct dwi_answer dwi_bench_mark(struct call *call)
{
    return dwi_call_with_rack(call, mark_now);
}

static enum dw_status undo_last(struct dwi_use *use)
{
    struct call *call = use->call;
    struct dw_mark undone;
    const char *plan = dwi_bench_asked(call);
    const enum dw_status status = plan[0] == '\0' ? DW_INPUT : dw_progress_undo(use->rack, plan, call->arena, call->faults, &undone);
    if (status == DW_DONE) {
        dwi_call_member(call, "{\"undone\": ", dw_mark_words(&undone, dwi_call_unit(call), call->arena));
        dw_text_add(&call->out, "}\n");
    }
    return status;
}

/* The last mark of a plan, or the plan itself. {"undone"} */
struct dwi_answer dwi_bench_undo(struct call *call)
{
    return dwi_call_with_rack(call, undo_last);
}

static enum dw_status take_back(struct dwi_use *use)
{
    struct call *call = use->call;
    const char *plan = dwi_bench_asked(call);
    return plan[0] == '\0' ? DW_INPUT : dw_progress_take_back(use->rack, plan, dwi_call_number(call, "number"), call->faults);
}

/* One mark by its number in the history. */
struct dwi_answer dwi_bench_back(struct call *call)
{
    return dwi_call_with_rack(call, take_back);
}

/* ---- a mark from a packet --------------------------------------------------------------------------------------- */

/* What differs between the plan asked for and the last of its chain. */
static enum dw_status compare(struct dwi_use *use, const char *asked, const char *last, struct dw_run_changes *changes)
{
    struct call *call = use->call;
    const char *const marks[] = {asked, last};
    const struct dw_plan *plans[2];
    const struct dw_progress *progress = NULL;
    for (int i = 0; i < 2; i++) {
        enum dw_status status = dw_progress_read(use->rack, marks[i], call->arena, call->faults, &progress);
        if (status == DW_DONE)
            status = dwi_plans_open(call->ask->folder, &progress->plan, call->arena, call->faults, &plans[i]);
        if (status != DW_DONE)
            return status;
    }
    if (plans[0]->total == 0 || plans[1]->total == 0) { /* one may be known from the ledger only, which knows of no money */
        struct dw_plan *silent = dw_arena_copy(call->arena, plans[1], 1, sizeof *silent);
        silent->total = plans[0]->total;
        plans[1] = silent;
    }
    return dw_run_changes(plans[0], plans[1], progress, dwi_call_unit(call), 2, call->arena, call->faults, changes);
}

static enum dw_status look(struct dwi_use *use)
{
    struct call *call = use->call;
    const char *mark = dwi_bench_asked(call);
    struct dw_entered_plans plans;
    struct dw_run_changes changes = {.count = 0};
    enum dw_status status = mark[0] == '\0' ? DW_INPUT : dw_progress_plans(use->rack, call->arena, call->faults, &plans);
    if (status != DW_DONE)
        return status;
    const struct dw_entered_plan *found = find_plan(&plans, mark);
    const struct dw_entered_plan *last = last_plan(&plans, mark);
    if (found != last)
        status = compare(use, mark, last->mark, &changes);
    if (status != DW_DONE)
        return status;
    dwi_call_member(call, "{\"mark\": ", mark);
    dwi_call_member(call, ", \"state\": ", found == NULL ? "unknown" : found == last ? "holds" : "outdated");
    dwi_call_member(call, ", \"jobs\": ", found == NULL ? "" : found->jobs);
    dwi_call_member(call, ", \"when\": ", found == NULL ? "" : found->when);
    dwi_call_member(call, ", \"last\": ", last == NULL ? "" : last->mark);
    dw_text_add(&call->out, ", \"changes\": ");
    dwi_replan_add_lines(&changes, &call->out);
    dw_text_add(&call->out, "}\n");
    return DW_DONE;
}

/* {"mark", "state": "holds"|"outdated"|"unknown", "jobs", "when", "last": mark, "changes": [...]} */
struct dwi_answer dwi_bench_look(struct call *call)
{
    return dwi_call_with_rack(call, look);
}
