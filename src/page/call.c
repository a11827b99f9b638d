/* call.c - see call.h. */
#include "call.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

const char *dwi_call_argument(const struct call *call, const char *key)
{
    const char *value = call->ask->argument(call->ask->context, key);
    return value == NULL ? "" : value;
}

int64_t dwi_call_number(const struct call *call, const char *key)
{
    return strtoll(dwi_call_argument(call, key), NULL, 10);
}

bool dwi_call_says_yes(const struct call *call, const char *key)
{
    return strcmp(dwi_call_argument(call, key), "yes") == 0;
}

struct dwi_worker *dwi_call_worker(const struct call *call)
{
    return strcmp(dwi_call_argument(call, "of"), "bench") == 0 ? call->ask->bench : call->ask->worker;
}

enum dw_unit dwi_call_unit(const struct call *call)
{
    return strcmp(dwi_call_argument(call, "units"), "mm") == 0 ? DW_MILLIMETER : DW_IN;
}

static void use_body(void *context)
{
    struct dwi_use *use = context;
    use->status = use->act(use);
}

struct dwi_answer dwi_call_with_rack(struct call *call, enum dw_status (*act)(struct dwi_use *use))
{
    struct dwi_use use = {.call = call, .act = act, .status = DW_SURROUNDINGS};
    enum dw_status status = dw_rack_open(dw_arena_format(call->arena, "%s/rack.db", call->ask->folder), call->faults, &use.rack);
    if (status == DW_DONE)
        status = dw_arena_guard(call->arena, use_body, &use) ? use.status : DW_SURROUNDINGS;
    dw_rack_close(use.rack);
    return status == DW_DONE && call->out.length > 0 ? dwi_call_give(call, 200) : dwi_call_faults(call, status);
}

void dwi_call_member(struct call *call, const char *lead, const char *text)
{
    dw_text_add(&call->out, lead);
    dw_json_quote(text, &call->out);
}

static int http_of(enum dw_status status)
{
    switch (status) {
    case DW_DONE:
        return 200;
    case DW_IMPOSSIBLE:
        return 409;
    case DW_INPUT:
        return 422;
    case DW_SURROUNDINGS:
    case DW_PROGRAM:
        break;
    }
    return 500;
}

struct dwi_answer dwi_call_give(const struct call *call, int http)
{
    return (struct dwi_answer){.status = http, .type = "application/json", .bytes = call->out.bytes, .length = call->out.length};
}

struct dwi_answer dwi_call_faults(struct call *call, enum dw_status status)
{
    call->out.length = 0;
    dw_text_add(&call->out, "{\"faults\": ");
    dw_json_faults(call->faults, &call->out);
    dw_text_add(&call->out, "}\n");
    return dwi_call_give(call, http_of(status));
}
