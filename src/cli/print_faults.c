/* print_faults.c - faults for people: those that say the same of several places are said once. */
#include "cli.h"

#include <drawerwright/memory.h>

static const char *places_of(struct dw_arena *arena, const struct dw_faults *faults, const struct dw_run *run, size_t at)
{
    if (faults->at[at].grade == DW_WARNING && run != NULL && run->sizings != NULL)
        return dw_places_called(arena, run->sizings, run->job_count, faults, at);
    return dw_fault_places(arena, faults, at);
}

void cli_print_cautions(const struct dw_faults *faults, const struct dw_run *run, struct dw_text *out)
{
    if (faults->warnings == 0)
        return;
    cli_print_heading("Cautions", out);
    for (size_t i = 0; i < faults->count; i++) {
        const struct dw_fault *fault = &faults->at[i];
        if (fault->grade != DW_WARNING || dw_fault_is_repeat(faults, i))
            continue;
        const char *place = places_of(out->arena, faults, run, i);
        cli_wrap(out, "  * ", "    ",
                 dw_arena_format(out->arena, "%s%s%s%s%s", place, place[0] == '\0' ? "" : ": ", fault->wrong, fault->cure[0] == '\0' ? "" : "; ",
                                 fault->cure));
    }
}

void cli_print_faults(const struct dw_faults *faults, const struct dw_run *run, bool quiet, struct dw_text *out)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct dw_fault *fault = &faults->at[i];
        if ((fault->grade == DW_WARNING && quiet) || dw_fault_is_repeat(faults, i))
            continue;
        const char *place = places_of(out->arena, faults, run, i);
        dw_text_addf(out, "drawerwright: %s: %s%s%s\n", dw_grade_word(fault->grade), place, place[0] == '\0' ? "" : ": ", fault->wrong);
        if (fault->cure[0] != '\0')
            dw_text_addf(out, "    %s\n", fault->cure);
    }
}
