/* plans.c - see plans.h. */
#include "plans.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

enum { MARK_LEAST = 4, MARK_MOST = 16 };

bool dwi_plans_is_mark(const char *mark)
{
    const size_t length = strlen(mark);
    return length >= MARK_LEAST && length <= MARK_MOST &&
           strspn(mark, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789") == length;
}

static const char *path_of(const char *folder, const char *mark, const char *ending, struct dw_arena *arena)
{
    return dw_arena_format(arena, "%s/plans/%s.%s", folder, mark, ending);
}

bool dwi_plans_has(const char *folder, const char *mark, const char *ending, struct dw_arena *arena)
{
    return dwi_plans_is_mark(mark) && access(path_of(folder, mark, ending, arena), F_OK) == 0;
}

const char *dwi_plans_read(const char *folder, const char *mark, const char *ending, struct dw_arena *arena, struct dw_faults *faults, size_t *length)
{
    return dw_file_read(path_of(folder, mark, ending, arena), arena, faults, length);
}

enum dw_status dwi_plans_keep(const char *folder, const char *mark, const char *ending, const char *bytes, size_t length, struct dw_arena *arena,
                              struct dw_faults *faults)
{
    if (mkdir(dw_arena_format(arena, "%s/plans", folder), 0777) != 0 && errno != EEXIST) {
        dw_error(faults, DW_SURROUNDINGS, "no-plans", folder, "the plan cannot be kept here: %s\nopen a folder that may be written", strerror(errno));
        return DW_SURROUNDINGS;
    }
    return dw_file_write(path_of(folder, mark, ending, arena), bytes, length, faults);
}

/* A file that cannot be read, or is of another plan, is told: somebody has put it there. */
enum dw_status dwi_plans_open(const char *folder, const struct dw_work_plan *work, struct dw_arena *arena, struct dw_faults *faults,
                              const struct dw_plan **plan)
{
    size_t length = 0;
    *plan = NULL;
    if (!dwi_plans_has(folder, work->mark, "json", arena))
        return dw_run_plan_entered(work, arena, faults, plan);
    const char *bytes = dwi_plans_read(folder, work->mark, "json", arena, faults, &length);
    const enum dw_status status = bytes == NULL ? DW_SURROUNDINGS : dw_plan_read_text(bytes, length, arena, faults, plan);
    if (status != DW_DONE || strcmp((*plan)->plan_id, work->mark) == 0)
        return status;
    dw_error(faults, DW_INPUT, "other-plan", work->mark, "plans/%s.json is the file of plan %s\nput the right file there, or take it away", work->mark, (*plan)->plan_id);
    return DW_INPUT;
}
