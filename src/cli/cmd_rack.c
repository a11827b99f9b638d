/* cmd_rack.c - the rack of offcuts: list, add, take, labels, history, undo. One small function each, found in a table by its word. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/rack.h>

struct rack_call {
    const struct cli_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_rack *rack;
    struct dw_length_style style;
    struct dw_text out;
    enum dw_status status;
};

static const char *show(const struct rack_call *call, dw_length length)
{
    return dw_length_show(call->arena, length, call->style);
}

static enum dw_status list(struct rack_call *call)
{
    static const char *const titles[] = {"offcut", "material", "length", "width", "grain along", "worth", "from"};
    struct dw_offcuts offcuts;
    const char *material = call->options->file_count > 1 ? call->options->files[1] : NULL;
    const enum dw_status status = dw_rack_list(call->rack, material, call->arena, call->faults, &offcuts);
    struct cli_table table = cli_table_in(call->arena, 7, titles, "llrrrrl");
    for (size_t i = 0; i < offcuts.count; i++) {
        const struct dw_offcut *offcut = &offcuts.at[i];
        cli_table_add(&table, offcut->id);
        cli_table_add(&table, offcut->material);
        cli_table_add(&table, show(call, offcut->length));
        cli_table_add(&table, show(call, offcut->width));
        cli_table_add(&table, show(call, offcut->grain_across ? offcut->width : offcut->length));
        cli_table_add(&table, dw_money_show(call->arena, offcut->value, 2));
        cli_table_add(&table, offcut->origin);
    }
    if (offcuts.count == 0)
        dw_text_add(&call->out, "The rack is empty.\n");
    else
        cli_table_print(&table, "", &call->out);
    return status;
}

static bool read_size(struct rack_call *call, const char *text, const char *what, dw_length *length)
{
    const char *why = NULL;
    if (dw_length_parse(text, call->style.unit, length, &why) && *length > 0)
        return true;
    dw_error(call->faults, DW_INPUT, "bad-length", what, "\"%s\" is no size\n%s", text, why);
    return false;
}

static enum dw_status add(struct rack_call *call)
{
    const struct cli_options *options = call->options;
    struct dw_offcut offcut = {.material = options->files[1], .origin = options->note == NULL ? "by hand" : options->note, .grain_across = options->grain_across};
    const char *why = NULL;
    int64_t number = 0;
    bool sound = read_size(call, options->files[2], "length", &offcut.length);
    sound = read_size(call, options->files[3], "width", &offcut.width) && sound;
    if (options->worth != NULL && !dw_money_parse(options->worth, 2, &offcut.value, &why)) {
        dw_error(call->faults, DW_INPUT, "bad-amount", "--worth", "\"%s\" is no amount\n%s", options->worth, why);
        sound = false;
    }
    if (!sound)
        return DW_INPUT;
    const enum dw_status status = dw_rack_add(call->rack, &offcut, call->faults, &number);
    if (status == DW_DONE)
        dw_text_addf(&call->out, "R%lld is in the rack: %s, %s x %s. Write R%lld on it.\n", (long long)number, offcut.material, show(call, offcut.length),
                     show(call, offcut.width), (long long)number);
    return status;
}

static enum dw_status take(struct rack_call *call)
{
    const char *id = call->options->files[1];
    const enum dw_status status = dw_rack_take(call->rack, id, call->options->note == NULL ? "" : call->options->note, call->faults);
    if (status == DW_DONE)
        dw_text_addf(&call->out, "%s is out of the rack.\n", id);
    return status;
}

/* What stands on an offcut's label: number, material and size, the way of the grain, where it came from. */
static struct dw_label label_of(struct rack_call *call, const struct dw_offcut *offcut)
{
    struct dw_arena *arena = call->arena;
    return (struct dw_label){
        .mark = offcut->id,
        .what = dw_arena_format(arena, "%s  %s \xC3\x97 %s", offcut->material, show(call, offcut->length), show(call, offcut->width)),
        .where = dw_arena_format(arena, "grain along %s", show(call, offcut->grain_across ? offcut->width : offcut->length)),
        .note = offcut->origin,
    };
}

static enum dw_status write_labels(struct rack_call *call, const struct dw_offcuts *offcuts)
{
    const struct cli_options *options = call->options;
    struct dw_packet_options packet = {.paper = options->paper != NULL && strcmp(options->paper, "a4") == 0 ? DW_A4 : DW_LETTER};
    struct dw_label *labels = dw_arena_alloc(call->arena, offcuts->count, sizeof *labels);
    for (size_t i = 0; i < offcuts->count; i++)
        labels[i] = label_of(call, &offcuts->at[i]);
    struct dw_scenes pages;
    const char *bytes = NULL;
    size_t length = 0;
    if (!cli_label_sheet(call->arena, options->label_sheet, call->style.unit, call->faults, &packet.label_sheet))
        return DW_INPUT;
    enum dw_status status = dw_draw_labels(labels, offcuts->count, &packet, call->arena, call->faults, &pages);
    if (status == DW_DONE)
        status = dw_scenes_pdf(&pages, "Offcuts", call->arena, call->faults, &bytes, &length);
    if (status == DW_DONE)
        status = dw_file_write(options->out, bytes, length, call->faults);
    return status;
}

static enum dw_status labels(struct rack_call *call)
{
    struct dw_offcuts offcuts;
    const char *material = call->options->file_count > 1 ? call->options->files[1] : NULL;
    if (call->options->out == NULL) {
        dw_error(call->faults, DW_INPUT, "no-file", "--out", "there is nowhere to write the labels\n-o FILE.pdf");
        return DW_INPUT;
    }
    enum dw_status status = dw_rack_list(call->rack, material, call->arena, call->faults, &offcuts);
    if (status != DW_DONE)
        return status;
    if (offcuts.count == 0) {
        dw_error(call->faults, DW_IMPOSSIBLE, "rack-empty", "", "the rack has nothing to label\nadd or post first");
        return DW_IMPOSSIBLE;
    }
    status = write_labels(call, &offcuts);
    if (status == DW_DONE)
        dw_text_addf(&call->out, "%zu %s written: %s\n", offcuts.count, offcuts.count == 1 ? "label" : "labels", call->options->out);
    return status;
}

static enum dw_status history(struct rack_call *call)
{
    static const char *const titles[] = {"", "when (UTC)", "offcut", "what", "plan", "note"};
    struct dw_movements movements;
    const enum dw_status status = dw_rack_history(call->rack, call->arena, call->faults, &movements);
    struct cli_table table = cli_table_in(call->arena, 6, titles, "rlllll");
    for (size_t i = 0; i < movements.count; i++) {
        const struct dw_movement *movement = &movements.at[i];
        cli_table_add(&table, dw_arena_format(call->arena, "%lld", (long long)movement->number));
        cli_table_add(&table, movement->when);
        cli_table_add(&table, movement->offcut);
        cli_table_add(&table, movement->what);
        cli_table_add(&table, movement->plan);
        cli_table_add(&table, movement->note);
    }
    cli_table_print(&table, "", &call->out);
    return status;
}

static enum dw_status undo(struct rack_call *call)
{
    const char *plan = call->options->files[1];
    const enum dw_status status = dw_rack_undo(call->rack, plan, call->faults);
    if (status == DW_DONE)
        dw_text_addf(&call->out, "Plan %s is undone: what it used is back in the rack, what it returned is out.\n", plan);
    return status;
}

static const struct {
    const char *word;
    const char *usage;
    size_t least, most; /* words, its own included */
    enum dw_status (*run)(struct rack_call *call);
} calls[] = {
    {"list", "list [MATERIAL]", 1, 2, list}, {"add", "add MATERIAL LENGTH WIDTH", 4, 4, add}, {"take", "take OFFCUT", 2, 2, take},
    {"labels", "labels [MATERIAL] -o FILE.pdf", 1, 2, labels},
    {"history", "history", 1, 1, history},   {"undo", "undo PLAN", 2, 2, undo},
};

static size_t find_call(const struct cli_options *options)
{
    const size_t count = sizeof calls / sizeof *calls;
    for (size_t i = 0; i < count; i++)
        if (strcmp(options->files[0], calls[i].word) == 0 && options->file_count >= calls[i].least && options->file_count <= calls[i].most)
            return i;
    return count;
}

static void body(void *context)
{
    struct rack_call *call = context;
    call->out = dw_text_in(call->arena);
    call->status = calls[find_call(call->options)].run(call);
    (void)fwrite(call->out.bytes, 1, call->out.length, stdout);
}

static enum dw_status usage(void)
{
    fputs("drawerwright rack: wants one of:", stderr);
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++)
        fprintf(stderr, "%s %s", i == 0 ? "" : ",", calls[i].usage);
    fputs("\nTry: drawerwright rack --help\n", stderr);
    return DW_INPUT;
}

enum dw_status cmd_rack(const struct cli_options *options)
{
    if (find_call(options) == sizeof calls / sizeof *calls)
        return usage();
    struct rack_call call = {.options = options, .arena = dw_arena_new(), .faults = dw_faults_new()};
    call.style = (struct dw_length_style){.unit = options->units != NULL && strcmp(options->units, "mm") == 0 ? DW_MILLIMETER : DW_IN, .decimals = -1};
    const char *path = options->rack_file == NULL ? "rack.db" : options->rack_file;
    if (call.arena == NULL || call.faults == NULL) {
        call.status = DW_SURROUNDINGS;
    } else {
        call.status = dw_rack_open(path, call.faults, &call.rack);
        if (call.status == DW_DONE && !dw_arena_guard(call.arena, body, &call))
            call.status = DW_SURROUNDINGS;
        cli_report(call.faults, NULL, options->quiet);
    }
    dw_rack_close(call.rack);
    dw_faults_free(call.faults);
    dw_arena_free(call.arena);
    return call.status;
}
