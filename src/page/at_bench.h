/* at_bench.h - what the answers about the bench share. */
#ifndef DWI_PAGE_AT_BENCH_H
#define DWI_PAGE_AT_BENCH_H

#include <drawerwright/progress.h>

#include "call.h"

/* The plan that the query names by its mark: "" with a fault (DW_INPUT) when that is no mark. */
const char *dwi_bench_asked(struct call *call);

/* Adds the whole state of the work on a plan, as a JSON object. */
void dwi_bench_tell(struct call *call, const struct dw_progress *progress);

#endif
