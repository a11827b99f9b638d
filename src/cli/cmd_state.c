/* cmd_state.c - where the work on a plan stands: pieces, what is left of the sheets, the history; and whether the plan still holds. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

static const char *const states[] = {[DW_PIECE_TO_CUT] = "to cut", [DW_PIECE_CUT] = "cut", [DW_PIECE_SPOILED] = "spoiled"};

static void print_pieces(struct cli_marking *marking, const struct dw_progress *progress)
{
    static const char *const titles[] = {"piece", "what", "material", "length", "width", "state"};
    struct cli_table table = cli_table_in(marking->arena, 6, titles, "lllrrl");
    for (size_t i = 0; i < progress->plan.piece_count; i++) {
        const struct dw_work_piece *piece = &progress->plan.pieces[i];
        cli_table_add(&table, piece->mark);
        cli_table_add(&table, piece->name);
        cli_table_add(&table, piece->material);
        cli_table_add(&table, cli_marking_length(marking, piece->length));
        cli_table_add(&table, cli_marking_length(marking, piece->width));
        cli_table_add(&table, states[progress->states[i]]);
    }
    cli_table_print(&table, "  ", &marking->out);
}

/* Pieces that are cut to another size than is wanted now. */
static void print_changed(struct cli_marking *marking, const struct dw_progress *progress)
{
    for (size_t i = 0; i < progress->cut_count; i++)
        if (progress->cut[i].changed[0] != '\0')
            cli_wrap(&marking->out, "  * ", "    ",
                     dw_arena_format(marking->arena, "%s is changed: %s", progress->cut[i].piece.mark, progress->cut[i].changed));
}

static void print_left(struct cli_marking *marking, const struct dw_progress *progress)
{
    static const char *const titles[] = {"left", "material", "length", "width", "measured"};
    struct cli_table table = cli_table_in(marking->arena, 5, titles, "llrrr");
    for (size_t i = 0; i < progress->left_count; i++) {
        cli_table_add(&table, progress->left[i].id);
        cli_table_add(&table, progress->left[i].panel.material);
        cli_table_add(&table, cli_marking_length(marking, progress->left[i].panel.length));
        cli_table_add(&table, cli_marking_length(marking, progress->left[i].panel.width));
        cli_table_add(&table, progress->left[i].thickness == DW_LENGTH_UNSET ? "" : cli_marking_length(marking, progress->left[i].thickness));
    }
    dw_text_add_char(&marking->out, '\n');
    cli_table_print(&table, "  ", &marking->out);
}

static void print_history(struct cli_marking *marking, const struct dw_progress *progress)
{
    static const char *const titles[] = {"", "when (UTC)", "plan", "what", "", "note"};
    struct cli_table table = cli_table_in(marking->arena, 6, titles, "rlllll");
    for (size_t i = 0; i < progress->history_count; i++) {
        const struct dw_marked *line = &progress->history[i];
        cli_table_add(&table, dw_arena_format(marking->arena, "%lld", (long long)line->number));
        cli_table_add(&table, line->when);
        cli_table_add(&table, line->plan);
        cli_table_add(&table, cli_mark_words(marking, &line->mark));
        cli_table_add(&table, line->taken_back ? "taken back" : "");
        cli_table_add(&table, line->mark.note);
    }
    dw_text_add_char(&marking->out, '\n');
    cli_table_print(&table, "  ", &marking->out);
}

static enum dw_status state(struct cli_marking *marking)
{
    const struct dw_progress *progress = NULL;
    const enum dw_status status = dw_progress_read(marking->rack, marking->plan, marking->arena, marking->faults, &progress);
    if (status != DW_DONE)
        return status;
    if (marking->options->json)
        return dw_json_progress(progress, &marking->out);
    size_t counts[3] = {0};
    for (size_t i = 0; i < progress->plan.piece_count; i++)
        counts[progress->states[i]]++;
    dw_text_addf(&marking->out, "Plan %s of %s: ", marking->plan, progress->plan.jobs);
    if (progress->replaced_by[0] != '\0')
        dw_text_addf(&marking->out, "OUTDATED. Plan %s replaced it: work from that one.\n", progress->replaced_by);
    else
        dw_text_add(&marking->out, "it holds.\n");
    dw_text_addf(&marking->out, "  %zu to cut, %zu cut, %zu spoiled", counts[DW_PIECE_TO_CUT], counts[DW_PIECE_CUT], counts[DW_PIECE_SPOILED]);
    if (progress->plan.follows[0] != '\0')
        dw_text_addf(&marking->out, "; with the plans before it %zu cut", progress->cut_count);
    dw_text_add(&marking->out, "\n\n");
    print_pieces(marking, progress);
    print_changed(marking, progress);
    if (progress->left_count > 0)
        print_left(marking, progress);
    print_history(marking, progress);
    return DW_DONE;
}

enum dw_status cmd_state(const struct cli_options *options)
{
    return cli_marking_run(options, state);
}
