/* cmd_plan.c - all of it: the report on stdout, and into a folder the plan, the parts, a drawing of each sheet and the packet.
 *
 * Every file is made in memory first and then written aside and renamed, so that a folder never holds half of one.
 */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { SHEET_WIDTH = 72000, SHEET_HEIGHT = 54000 }; /* of a sheet's own drawing, in hundredths of a point: 10 x 7 1/2 in */

/* The report of the terminal, also kept as report.txt. */
static void print_report(struct cli_session *session, struct dw_text *out)
{
    const struct dw_run *run = &session->run;
    for (size_t j = 0; j < run->job_count; j++) {
        dw_text_addf(out, "%s%s  (plan %s)\n", j == 0 ? "" : "\n", run->jobs[j]->name, run->purchase->plan_mark);
        (void)cli_print_sizing(session->arena, run->sizings[j], session->options, out);
        cli_print_parts(session->arena, run->parts[j], out);
    }
    if (session->before != NULL)
        cli_print_changes(session, out);
    cli_print_layouts(session->arena, run->purchase, out);
    cli_print_purchase(session->arena, run->purchase, out);
    cli_print_leeway(session, out);
    cli_print_cautions(session->faults, &session->run, out);
}

static enum dw_status write_text(struct cli_session *session, const char *name, const struct dw_text *text)
{
    const char *path = dw_arena_format(session->arena, "%s/%s", session->options->out, name);
    return dw_file_write(path, text->bytes, text->length, session->faults);
}

static enum dw_status write_sheets(struct cli_session *session)
{
    const struct dw_layouts *layouts = session->run.purchase->layouts;
    for (size_t m = 0; m < layouts->material_count; m++)
        for (size_t s = 0; s < layouts->materials[m].sheet_count; s++) {
            struct dw_scene scene;
            const char *bytes = NULL;
            size_t length = 0;
            enum dw_status status = dw_draw_sheet(session->run.purchase, m, s, SHEET_WIDTH, SHEET_HEIGHT, session->arena, session->faults, &scene);
            if (status == DW_DONE)
                status = dw_scene_svg(&scene, session->arena, session->faults, &bytes, &length);
            if (status == DW_DONE)
                status = dw_file_write(dw_arena_format(session->arena, "%s/sheet-%s.svg", session->options->out, layouts->materials[m].sheets[s].name),
                                       bytes, length, session->faults);
            if (status != DW_DONE)
                return status;
        }
    return DW_DONE;
}

/* Every page of the packet as a drawing of its own: page-01.svg or page-01.png. */
static enum dw_status write_pages(struct cli_session *session, const struct dw_scenes *pages)
{
    enum { PNG_DOTS = 150 };
    const char *form = session->options->pages;
    enum dw_status status = DW_DONE;
    for (size_t i = 0; form != NULL && i < pages->count && status == DW_DONE; i++) {
        const char *bytes = NULL;
        size_t length = 0;
        status = strcmp(form, "png") == 0 ? dw_scene_png(&pages->at[i], PNG_DOTS, session->arena, session->faults, &bytes, &length)
                                          : dw_scene_svg(&pages->at[i], session->arena, session->faults, &bytes, &length);
        if (status == DW_DONE)
            status = dw_file_write(dw_arena_format(session->arena, "%s/page-%02zu.%s", session->options->out, i + 1, form), bytes, length, session->faults);
    }
    return status;
}

enum dw_status cli_packet_options(struct dw_arena *arena, const struct cli_options *options, enum dw_unit unit, struct dw_faults *faults,
                                  struct dw_packet_options *packet)
{
    *packet = (struct dw_packet_options){
        .paper = options->paper != NULL && strcmp(options->paper, "a4") == 0 ? DW_A4 : DW_LETTER,
        .story_stick = options->story_stick,
        .labels = options->labels || options->label_sheet != NULL,
    };
    if (!cli_label_sheet(arena, options->label_sheet, unit, faults, &packet->label_sheet))
        return DW_INPUT;
    return dw_check_labels(packet, faults);
}

static enum dw_status write_packet(struct cli_session *session)
{
    const struct cli_options *options = session->options;
    struct dw_packet_options packet;
    struct dw_scenes pages;
    const char *bytes = NULL;
    size_t length = 0;
    enum dw_status status = cli_packet_options(session->arena, options, session->run.jobs[0]->unit, session->faults, &packet);
    if (status == DW_DONE)
        status = dw_draw_packet(session->run.purchase, session->faults, &packet, session->arena, session->faults, &pages);
    if (status == DW_DONE)
        status = dw_scenes_pdf(&pages, session->run.jobs[0]->name, session->arena, session->faults, &bytes, &length);
    if (status == DW_DONE)
        status = dw_file_write(dw_arena_format(session->arena, "%s/packet.pdf", options->out), bytes, length, session->faults);
    return status == DW_DONE ? write_pages(session, &pages) : status;
}

static enum dw_status write_files(struct cli_session *session, const struct dw_text *report)
{
    struct dw_text parts = dw_text_in(session->arena);
    struct dw_text shopping = dw_text_in(session->arena);
    struct dw_text plan = dw_text_in(session->arena);
    enum dw_status status = dw_csv_parts(session->run.purchase->layouts, &parts);
    if (status == DW_DONE)
        status = dw_json_plan(session->run.purchase, session->faults, &plan);
    dw_csv_shopping(session->run.purchase, &shopping);
    if (status == DW_DONE)
        status = write_text(session, "shopping.csv", &shopping);
    if (status == DW_DONE)
        status = write_text(session, "parts.csv", &parts);
    if (status == DW_DONE)
        status = write_text(session, "report.txt", report);
    if (status == DW_DONE)
        status = write_sheets(session);
    if (status == DW_DONE)
        status = write_packet(session);
    if (status == DW_DONE)
        status = write_text(session, "plan.json", &plan);
    return status;
}

enum dw_status cli_plan_answer(struct cli_session *session, struct dw_text *out)
{
    struct dw_text report = dw_text_in(session->arena);
    print_report(session, &report);
    enum dw_status status = DW_DONE;
    if (session->options->out != NULL)
        status = write_files(session, &report);
    if (status != DW_DONE)
        return status;
    if (session->options->json)
        return dw_json_plan(session->run.purchase, session->faults, out);
    dw_text_add(out, report.bytes);
    if (session->options->out != NULL)
        dw_text_addf(out, "\nWritten to %s: packet.pdf, report.txt, parts.csv, shopping.csv, plan.json and a drawing of each sheet.\n", session->options->out);
    return DW_DONE;
}

enum dw_status cmd_plan(const struct cli_options *options)
{
    struct cli_session session = {.near_misses = true};
    (void)cli_session_start(&session, options, DW_STAGE_LAYOUT);
    return cli_session_end(&session, cli_plan_answer);
}
