/* json_figure.c - faults, and figures with their steps, as JSON. Lengths are integers of 1/16 micrometer with what a maker reads beside them. */
#include "json_stage.h"

#include <drawerwright/files.h>

void dwi_json_fault(struct dwi_json *json, const struct dw_fault *fault)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "grade", dw_grade_word(fault->grade));
    dwi_json_string(json, "code", fault->code);
    dwi_json_string(json, "address", fault->address);
    dwi_json_string(json, "wrong", fault->wrong);
    dwi_json_string(json, "cure", fault->cure);
    dwi_json_end_object(json);
}

void dw_json_faults(const struct dw_faults *faults, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_array(&json, NULL);
    for (size_t i = 0; i < faults->count; i++)
        dwi_json_fault(&json, &faults->at[i]);
    dwi_json_end_array(&json);
}

void dwi_json_show(struct dwi_json *json, const struct dw_job *job, dw_length length)
{
    dwi_json_string(json, "show", dw_length_show(json->out->arena, length, (struct dw_length_style){.unit = job->unit, .decimals = -1}));
}

static void write_step(struct dwi_json *json, const struct dw_job *job, const struct dw_step *step)
{
    static const char *const operations[] = {[DW_START] = "start", [DW_ADD] = "add",         [DW_SUBTRACT] = "subtract", [DW_TIMES] = "times",
                                             [DW_DOWN_TO] = "down to", [DW_UP_TO] = "up to", [DW_AT_MOST] = "at most",   [DW_AT_LEAST] = "at least"};
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "words", step->words);
    dwi_json_string(json, "operation", operations[step->operation]);
    if (step->operation == DW_TIMES) {
        dwi_json_integer(json, "numerator", step->numerator);
        dwi_json_integer(json, "denominator", step->denominator);
    } else {
        dwi_json_integer(json, "amount", step->amount);
    }
    dwi_json_integer(json, "after", step->after);
    dwi_json_show(json, job, step->after);
    dwi_json_end_object(json);
}

void dwi_json_figure(struct dwi_json *json, const struct dw_job *job, const char *key, const struct dw_figure *figure, bool figuring)
{
    if (figure->step_count == 0)
        return;
    if (figuring)
        dwi_json_object(json, key);
    else
        dwi_json_flat_object(json, key);
    dwi_json_integer(json, "value", figure->value);
    dwi_json_show(json, job, figure->value);
    if (figuring) {
        dwi_json_array(json, "figuring");
        for (size_t i = 0; i < figure->step_count; i++)
            write_step(json, job, &figure->steps[i]);
        dwi_json_end_array(json);
    }
    dwi_json_end_object(json);
}
