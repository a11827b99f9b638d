/* job_set.c - one value of a job's JSON set by its address, for changes that are kept. */
#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "change.h"
#include "tree.h"

enum dw_status dw_job_set(const char *bytes, size_t length, const char *address, const char *value, struct dw_text *out,
                          struct dw_faults *faults)
{
    struct dw_arena *scratch = dw_arena_child(out->arena);
    struct dwi_tree *tree = dwi_tree_read(bytes, length, &dwi_job_limits, "", scratch, faults);
    struct dwi_tree *node = tree == NULL || value == NULL ? NULL : dwi_change_value(value, scratch, faults);
    const bool ready = tree != NULL && (value == NULL || node != NULL);
    if (!ready || !dwi_change(scratch, faults, tree, address, node)) {
        dw_arena_free(scratch);
        return faults->status;
    }
    dwi_tree_write(tree, out);
    dw_arena_free(scratch);
    return DW_DONE;
}
