/* csv_parts.c - the parts of a plan as CSV (RFC 4180): a line a part, lengths as a maker writes them, every one exact. The list goes back in
 * as a bare list of parts: the columns that make a part have the names that such a list uses. */
#include <drawerwright/files.h>

#include <string.h>

#include <drawerwright/memory.h>

#include "amounts_show.h"
#include "csv_write.h"
#include "json_stage.h"

static const char *marks(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : " ", part->pieces[i].mark);
    return text.bytes;
}

/* The case of the first piece, or the group that an extra was listed under. */
const char *dwi_part_group(const struct dw_job *job, const struct dw_part *part)
{
    const size_t one = part->count > 0 ? part->pieces[0].case_index : DW_NO_INDEX;
    if (one < job->case_count)
        return job->cases[one].name;
    for (size_t i = 0; part->kind == DW_PART_EXTRA && i < job->extra_count; i++)
        if (strcmp(job->extras[i].name, part->name) == 0)
            return job->extras[i].group;
    return "";
}

static void add_part(struct dw_text *out, const struct dw_job *job, const struct dw_part *part)
{
    static const char *const grains[] = {[DW_ALONG] = "along", [DW_ACROSS] = "across", [DW_FREE] = "free"};
    struct dw_arena *arena = out->arena;
    const char *const fields[] = {job->id,
                                  part->name,
                                  dw_material_id(job, part->material),
                                  dwi_length_exact(arena, part->length.value, job->unit),
                                  dwi_length_exact(arena, part->width.value, job->unit),
                                  dw_arena_format(arena, "%zu", part->count),
                                  grains[part->grain],
                                  dwi_part_group(job, part),
                                  dwi_length_exact(arena, part->thickness, job->unit),
                                  dw_unit_word(job->unit),
                                  marks(arena, part)};
    const size_t count = sizeof fields / sizeof *fields;
    for (size_t i = 0; i < count; i++)
        dwi_csv_field(out, fields[i], i + 1 == count);
}

enum dw_status dw_csv_parts(const struct dw_layouts *layouts, struct dw_text *out)
{
    dw_text_add(out, "job,name,material,length,width,count,grain,group,thickness,units,marks\r\n");
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            add_part(out, layouts->jobs[j]->sizing->job, &layouts->jobs[j]->at[p]);
    return DW_DONE;
}
