/* call.h - one call to the page's api while it is answered: what the files that answer share. */
#ifndef DWI_PAGE_CALL_H
#define DWI_PAGE_CALL_H

#include <stdint.h>

#include <drawerwright/length.h>
#include <drawerwright/rack.h>

#include "api.h"

struct call {
    const struct dwi_ask *ask;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_text out; /* JSON of the answer */
};

/* A value of the query, "" when it is not there; as a number, 0 when it is none; whether it is "yes". */
const char *dwi_call_argument(const struct call *call, const char *key);
int64_t dwi_call_number(const struct call *call, const char *key);
bool dwi_call_says_yes(const struct call *call, const char *key);

/* The worker that the run is of: of=bench or the drawing's. */
struct dwi_worker *dwi_call_worker(const struct call *call);

/* The unit in which lengths are asked for: units=mm or inches. */
enum dw_unit dwi_call_unit(const struct call *call);

/* The ledger's path; opens, acts and closes it in any case: whatever allocates while it is open runs in a guard of its own. */
struct dwi_use {
    struct call *call;
    struct dw_rack *rack;
    enum dw_status (*act)(struct dwi_use *use);
    enum dw_status status;
};
struct dwi_answer dwi_call_with_rack(struct call *call, enum dw_status (*act)(struct dwi_use *use));

/* Adds `lead` and then the text as a JSON string. */
void dwi_call_member(struct call *call, const char *lead, const char *text);

/* What was written to `out`, with an HTTP status; or {"faults": [...]} with the HTTP status of `status`. */
struct dwi_answer dwi_call_give(const struct call *call, int http);
struct dwi_answer dwi_call_faults(struct call *call, enum dw_status status);

/* The rack's answers (api_rack.c). */
struct dwi_answer dwi_rack_list(struct call *call);
struct dwi_answer dwi_rack_add(struct call *call);
struct dwi_answer dwi_rack_take(struct call *call);
struct dwi_answer dwi_rack_post(struct call *call);
struct dwi_answer dwi_rack_undo(struct call *call);

/* The bench's answers (api_bench.c, api_measure.c). */
struct dwi_answer dwi_bench_state(struct call *call);
struct dwi_answer dwi_bench_enter(struct call *call);
struct dwi_answer dwi_bench_file(struct call *call);
struct dwi_answer dwi_bench_mark(struct call *call);
struct dwi_answer dwi_bench_undo(struct call *call);
struct dwi_answer dwi_bench_back(struct call *call);
struct dwi_answer dwi_bench_look(struct call *call);
struct dwi_answer dwi_bench_plan(struct call *call);
struct dwi_answer dwi_bench_measure(struct call *call);
struct dwi_answer dwi_bench_packet(struct call *call);
struct dwi_answer dwi_bench_post(struct call *call);

#endif
