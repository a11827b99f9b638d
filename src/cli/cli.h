/* cli.h - what the files of the command line share. This room includes only the public headers and holds no rule of the trade. */
#ifndef DWI_CLI_H
#define DWI_CLI_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <drawerwright/drawing.h>
#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/leeway.h>
#include <drawerwright/progress.h>
#include <drawerwright/run.h>
#include <drawerwright/text.h>
#include <drawerwright/work.h>

struct dw_arena;

/* ---- options (options.c) ---- */

enum { CLI_MOST_FILES = 64, CLI_MOST_SETTINGS = 256 };

/* What the command line said. Strings point into argv. */
struct cli_options {
    const char *files[CLI_MOST_FILES];
    size_t file_count;
    const char *settings[CLI_MOST_SETTINGS]; /* --set PLACE=VALUE */
    size_t setting_count;
    const char *keep[CLI_MOST_SETTINGS]; /* --keep PATH */
    size_t keep_count;
    const char *out;      /* -o: a folder (plan) or a file; NULL */
    const char *shop;     /* --shop: a shop file for a bare list of parts; NULL */
    const char *only;     /* --only: part of a path such as "Bench/2/3", or kinds of parts, commas between; NULL */
    const char *paper;    /* --paper: "letter" or "a4"; NULL */
    const char *patience; /* NULL: coffee */
    const char *first;    /* --first: "along", "across"; NULL: either */
    const char *rack_file; /* --rack-file: the rack's ledger; NULL: rack.db beside the job (rack: in this folder) */
    const char *units;    /* --units: "in", "mm" for the rack's sizes */
    const char *pages;    /* --pages: "svg" or "png", every page of the packet as a drawing too; NULL: the PDF only */
    const char *label_sheet; /* --label-sheet: sizes between commas; NULL: plain paper */
    const char *note;     /* --note: said of an offcut */
    const char *worth;    /* --worth: of an offcut */
    int64_t seconds;      /* 0: no clock */
    int64_t seed;
    int64_t threads;
    int64_t turns;        /* 0: any */
    int64_t step;         /* --step: of the cut order; 0 */
    int64_t port;         /* of the page; 0: a free one */
    bool json, figuring, quiet, help, story_stick, labels;
    bool no_browser;      /* page: print the address only */
    bool leeway;          /* --leeway: let sizes give to save a sheet */
    bool rack;            /* --rack: use the offcuts of the rack */
    bool grain_across;    /* --grain-across: an offcut's grain runs along its width */
};

struct cli_command {
    const char *name;
    const char *arguments; /* as in the usage line */
    const char *help;      /* one line */
    size_t files_least, files_most;
    enum dw_status (*run)(const struct cli_options *options);
};

/* The table of commands, ended by a NULL name. */
extern const struct cli_command cli_commands[];

/* Reads argv behind the command's name. On a usage error prints two lines on stderr and returns false. */
bool cli_options_read(const struct cli_command *command, int argc, char **argv, struct cli_options *options);

/* Help on stdout: of the program (command NULL) or of one command. */
void cli_help(const struct cli_command *command);

/* The rows of the tables of options and exits, for manuals and completions; false past the last one. */
struct cli_option_words {
    const char *name;       /* "--out" */
    const char *short_name; /* "-o" or NULL */
    const char *argument;   /* NULL for a flag */
    const char *help;
    const char *choices;    /* words allowed, between spaces; NULL: any */
};
bool cli_option_row(size_t index, struct cli_option_words *words);
bool cli_option_is_for(size_t index, const struct cli_command *command);
bool cli_exit_row(size_t index, int *status, const char **meaning);

/* ---- manual pages (roff.c) ---- */

/* One line of words as roff. */
void cli_roff_add(struct dw_text *out, const char *words);

/* Markdown as the reference of the job file uses it; cuts the text into lines in place. */
void cli_roff_add_markdown(struct dw_text *out, char *markdown);

/* The sizes of a sheet of labels (label_sheet.c); all zero for NULL. False with a fault when they cannot be read. */
bool cli_label_sheet(struct dw_arena *arena, const char *text, enum dw_unit unit, struct dw_faults *faults, struct dw_label_sheet *sheet);

/* ---- a table of text (table.c) ---- */

enum { CLI_MOST_COLUMNS = 12 };

/* Rows of cells, printed with columns as wide as they need. Everything in `arena`. */
struct cli_table {
    struct dw_arena *arena;
    size_t columns;
    const char *const *titles;   /* `columns` of them; NULL: no head */
    const char *alignment;       /* one character a column: 'l' or 'r' */
    const char **cells;          /* rows x columns */
    size_t cell_count, capacity;
};

struct cli_table cli_table_in(struct dw_arena *arena, size_t columns, const char *const *titles, const char *alignment);
void cli_table_add(struct cli_table *table, const char *cell);
void cli_table_print(const struct cli_table *table, const char *indent, struct dw_text *to);

/* Adds `words` to `to` wrapped at 96 columns, the first line behind `first`, the others behind `rest`; a figure keeps its fraction. */
void cli_wrap(struct dw_text *to, const char *first, const char *rest, const char *words);

/* ---- one call of the program (session.c) ---- */

struct cli_session;

/* Writes the answer of a run that went as far as it was asked: to `out`, which goes to stdout. Runs in a guard of the session's arena. */
typedef enum dw_status cli_answer(struct cli_session *session, struct dw_text *out);

struct cli_session {
    const struct cli_options *options;
    enum dw_stage last;
    bool near_misses; /* set before the start: say what small change of a size would save a sheet */
    bool replan;      /* set before the start: the first file is the plan that this one is to replace */
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_run run;
    const struct dw_leeway *leeway; /* what the sizes gave; NULL when nobody asked */
    const struct dw_leeway *near;   /* what they would have to give; NULL when nobody looked */
    enum dw_status status;
    cli_answer *answer;
    const struct dw_plan *before;       /* replan: the plan that is replaced ... */
    const struct dw_progress *progress; /* ... and how far the work on it is; else NULL */
    struct dw_run_changes changes;      /* replan: against it */
    struct cli_session *other; /* compare: the run that this one is held against; else NULL */
};

/* Reads the jobs and runs the line up to `last`. Every start is followed by an end, which lets `answer` (may be NULL) write when all went
 * well, prints the faults on stderr and frees everything. Both return the status so far. */
enum dw_status cli_session_start(struct cli_session *session, const struct cli_options *options, enum dw_stage last);
enum dw_status cli_session_end(struct cli_session *session, cli_answer *answer);

/* replan: reads the plan that is replaced and how far it is, keeps what is cut, and offers what is left as sheets. Inside a guard. */
enum dw_status cli_replan_prepare(struct cli_session *session, struct dw_run_rest *rest, struct dw_layout_options *layout);

/* Makes the folder that a plan is to be written to, and those above it. */
enum dw_status cli_make_folder(struct dw_arena *arena, const char *folder, struct dw_faults *faults);

/* What the packet is asked to be; DW_INPUT when its labels cannot be. */
enum dw_status cli_packet_options(struct dw_arena *arena, const struct cli_options *options, enum dw_unit unit, struct dw_faults *faults,
                                  struct dw_packet_options *packet);

/* plan: report and files. */
enum dw_status cli_plan_answer(struct cli_session *session, struct dw_text *out);

/* Both at once: what most commands are. */
enum dw_status cli_session_run(const struct cli_options *options, enum dw_stage last, cli_answer *answer);

/* The faults of a call on stderr: "drawerwright: error: place: what is wrong", then what would be right. Without the warnings when quiet. `run`, NULL
 * or what the call has found, names places for people. */
void cli_report(const struct dw_faults *faults, const struct dw_run *run, bool quiet);

/* ---- what is printed (print_*.c); each adds to `out` ---- */

/* ---- the progress of a plan (marking.c) ---- */

/* One call about a plan that is entered. */
struct cli_marking {
    const struct cli_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_rack *rack;
    const char *plan;                /* its mark */
    struct dw_text out;
    enum dw_status (*run)(struct cli_marking *marking);
    enum dw_status status;
};

/* Opens the ledger, enters the plan of the first file (a mark instead of a file is taken as it is), runs, prints, reports. */
enum dw_status cli_marking_run(const struct cli_options *options, enum dw_status (*run)(struct cli_marking *marking));

/* A length as --units asks for it; and a mark in words: "S1 done to step 7". In the call's arena. */
const char *cli_marking_length(const struct cli_marking *marking, dw_length length);
const char *cli_mark_words(struct cli_marking *marking, const struct dw_mark *mark);

/* Reads a plan's file and enters it, unless it is entered. */
enum dw_status cli_enter_plan(struct dw_rack *rack, const char *path, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan);

/* The ledger as named, or rack.db in this folder. */
const char *cli_ledger(const struct cli_options *options);

void cli_print_heading(const char *heading, struct dw_text *out);
void cli_print_job(struct dw_arena *arena, const struct dw_job *job, struct dw_text *out);
bool cli_print_sizing(struct dw_arena *arena, const struct dw_sizing *sizing, const struct cli_options *options, struct dw_text *out);
void cli_print_parts(struct dw_arena *arena, const struct dw_parts *parts, struct dw_text *out);
void cli_print_layouts(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out);
void cli_print_purchase(struct dw_arena *arena, const struct dw_purchase *purchase, struct dw_text *out);
void cli_print_leeway(const struct cli_session *session, struct dw_text *out);
void cli_print_changes(const struct cli_session *session, struct dw_text *out);
/* Warnings tell their places by name as soon as there are sizes (`run` may be NULL); errors keep the addresses that are to be mended in the job file. */
void cli_print_cautions(const struct dw_faults *faults, const struct dw_run *run, struct dw_text *out);
void cli_print_faults(const struct dw_faults *faults, const struct dw_run *run, bool quiet, struct dw_text *out);

/* Shorthands for a job's lengths in `arena`. */
struct dw_length_style cli_style(const struct dw_job *job);
const char *cli_length(struct dw_arena *arena, const struct dw_job *job, dw_length length);

/* ---- the commands (cmd_*.c) ---- */

enum dw_status cmd_new(const struct cli_options *options);
enum dw_status cmd_check(const struct cli_options *options);
enum dw_status cmd_size(const struct cli_options *options);
enum dw_status cmd_sketch(const struct cli_options *options);
enum dw_status cmd_parts(const struct cli_options *options);
enum dw_status cmd_layout(const struct cli_options *options);
enum dw_status cmd_buy(const struct cli_options *options);
enum dw_status cmd_plan(const struct cli_options *options);
enum dw_status cmd_compare(const struct cli_options *options);
enum dw_status cmd_page(const struct cli_options *options);
enum dw_status cmd_manual(const struct cli_options *options);
enum dw_status cmd_rack(const struct cli_options *options);
enum dw_status cmd_post(const struct cli_options *options);
enum dw_status cmd_done(const struct cli_options *options);
enum dw_status cmd_spoiled(const struct cli_options *options);
enum dw_status cmd_damaged(const struct cli_options *options);
enum dw_status cmd_measured(const struct cli_options *options);
enum dw_status cmd_note(const struct cli_options *options);
enum dw_status cmd_undo(const struct cli_options *options);
enum dw_status cmd_state(const struct cli_options *options);
enum dw_status cmd_replan(const struct cli_options *options);

#endif
