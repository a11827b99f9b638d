/* csv_parts.c - the parts of a plan as CSV (RFC 4180): a line a part, lengths as a maker writes them. */
#include <drawerwright/files.h>

#include <string.h>

#include <drawerwright/memory.h>

static void add_field(struct dw_text *out, const char *field, bool last)
{
    if (strpbrk(field, ",\"\r\n") == NULL) {
        dw_text_add(out, field);
    } else {
        dw_text_add_char(out, '"');
        for (; *field != '\0'; field++) {
            if (*field == '"')
                dw_text_add_char(out, '"');
            dw_text_add_char(out, *field);
        }
        dw_text_add_char(out, '"');
    }
    dw_text_add(out, last ? "\r\n" : ",");
}

static const char *marks(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : " ", part->pieces[i].mark);
    return text.bytes;
}

static void add_part(struct dw_text *out, const struct dw_job *job, const struct dw_part *part)
{
    static const char *const grains[] = {[DW_ALONG] = "along", [DW_ACROSS] = "across", [DW_FREE] = "free"};
    struct dw_arena *arena = out->arena;
    const struct dw_length_style style = {.unit = job->unit, .decimals = -1};
    const struct dw_material *material = &job->shop.materials[part->material];
    const char *const fields[] = {
        job->name, part->name, material->name, dw_arena_format(arena, "%zu", part->count), dw_length_show(arena, part->length.value, style),
        dw_length_show(arena, part->width.value, style), dw_length_show(arena, part->thickness, style), dw_unit_word(job->unit), grains[part->grain],
        marks(arena, part)};
    const size_t count = sizeof fields / sizeof *fields;
    for (size_t i = 0; i < count; i++)
        add_field(out, fields[i], i + 1 == count);
}

enum dw_status dw_csv_parts(const struct dw_layouts *layouts, struct dw_text *out)
{
    dw_text_add(out, "job,part,material,pieces,length,width,thickness,unit,grain,marks\r\n");
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            add_part(out, layouts->jobs[j]->sizing->job, &layouts->jobs[j]->at[p]);
    return DW_DONE;
}
