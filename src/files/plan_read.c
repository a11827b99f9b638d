/* plan_read.c - a plan file back into a struct.
 *
 * Every value is asked for by key and kind; what is missing or of another kind is reported at its place, and reading goes on with a zero,
 * so that all faults of a file are told at once. Names of parts and sheets are looked up as they come.
 */
#include <drawerwright/plan.h>

#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "file_read.h"
#include "format.h"
#include "led_faults.h"
#include "tree.h"

struct plan_call {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dwi_tree *tree;
    struct dw_plan *plan;
};

/* An object of the file and its place. */
struct place {
    const struct plan_call *call;
    const struct dwi_tree *node;
    const char *address;
};

static const char *key_address(const struct place *place, const char *key)
{
    return dw_address_key(place->call->arena, place->address, key);
}

/* ---- asking for values ------------------------------------------------------------------------------------ */

static const struct dwi_tree *ask(const struct place *place, const char *key, enum dwi_tree_kind kind, const char *expected)
{
    const struct dwi_tree *node = dwi_tree_find(place->node, key);
    if (node != NULL && node->kind == kind)
        return node;
    if (node == NULL)
        dw_error(place->call->faults, DW_INPUT, "missing", key_address(place, key), "it is missing\n%s", expected);
    else
        dw_error(place->call->faults, DW_INPUT, "wrong-type", key_address(place, key), "%s stands here\n%s", dwi_tree_kind_words(node), expected);
    return NULL;
}

static const char *ask_text(const struct place *place, const char *key)
{
    const struct dwi_tree *node = ask(place, key, DWI_STRING, "a string");
    return node == NULL ? "" : node->text;
}

static bool read_integer(const char *text, int64_t *number)
{
    const bool negative = *text == '-';
    const char *digits = text + (negative ? 1 : 0);
    const size_t length = strlen(digits);
    if (length == 0 || length > 15 || strspn(digits, "0123456789") != length)
        return false;
    *number = 0;
    for (; *digits != '\0'; digits++)
        *number = *number * 10 + (*digits - '0');
    if (negative)
        *number = -*number;
    return true;
}

static int64_t integer_of(const struct plan_call *call, const struct dwi_tree *node, const char *address)
{
    int64_t number = 0;
    if (node->kind == DWI_NUMBER && read_integer(node->text, &number))
        return number;
    dw_error(call->faults, DW_INPUT, "wrong-type", address, "no whole number stands here\na whole number");
    return 0;
}

static int64_t ask_integer(const struct place *place, const char *key)
{
    const struct dwi_tree *node = ask(place, key, DWI_NUMBER, "a whole number");
    return node == NULL ? 0 : integer_of(place->call, node, key_address(place, key));
}

/* A length that is not negative and no longer than any length may be. */
static dw_length ask_length(const struct place *place, const char *key)
{
    const dw_length length = ask_integer(place, key);
    if (length >= 0 && length <= DW_LENGTH_MAX)
        return length;
    dw_error(place->call->faults, DW_INPUT, "out-of-range", key_address(place, key), "%lld is no length of a plan\n1/16 micrometers, from 0 to %lld",
             (long long)length, (long long)DW_LENGTH_MAX);
    return 0;
}

static bool ask_bool(const struct place *place, const char *key)
{
    const struct dwi_tree *node = dwi_tree_find(place->node, key);
    if (node == NULL || node->kind != DWI_FALSE)
        (void)ask(place, key, DWI_TRUE, "true or false");
    return node != NULL && node->kind == DWI_TRUE;
}

/* One of the words; their place, 0 with a fault otherwise. */
static size_t ask_word(const struct place *place, const char *key, const char *const *words, size_t count)
{
    const struct dwi_tree *node = ask(place, key, DWI_STRING, words[0]);
    if (node == NULL)
        return 0;
    for (size_t i = 0; i < count; i++)
        if (strcmp(words[i], node->text) == 0)
            return i;
    dw_error(place->call->faults, DW_INPUT, "unknown-word", key_address(place, key), "\"%s\" is not known here\n\"%s\" or another of its words", node->text,
             words[0]);
    return 0;
}

/* ---- arrays ----------------------------------------------------------------------------------------------- */

typedef void read_one(const struct place *place, void *thing);

/* Reads an array of objects, each by `read`; returns the things and sets *count. */
static void *ask_objects(const struct place *place, const char *key, size_t size, read_one *read, size_t *count)
{
    const struct dwi_tree *array = ask(place, key, DWI_ARRAY, "an array");
    *count = array == NULL ? 0 : dwi_tree_count(array);
    char *things = dw_arena_alloc(place->call->arena, *count, size);
    size_t i = 0;
    for (const struct dwi_tree *node = array == NULL ? NULL : array->first; node != NULL; node = node->next, i++) {
        const struct place one = {.call = place->call, .node = node, .address = dw_address_index(place->call->arena, key_address(place, key), i)};
        if (node->kind == DWI_OBJECT)
            read(&one, things + i * size);
        else
            dw_error(place->call->faults, DW_INPUT, "wrong-type", one.address, "%s stands here\nan object", dwi_tree_kind_words(node));
    }
    return things;
}

static const char *const *ask_texts(const struct place *place, const char *key, size_t *count)
{
    const struct dwi_tree *array = ask(place, key, DWI_ARRAY, "an array");
    *count = array == NULL ? 0 : dwi_tree_count(array);
    const char **texts = dw_arena_alloc(place->call->arena, *count, sizeof *texts);
    size_t i = 0;
    for (const struct dwi_tree *node = array == NULL ? NULL : array->first; node != NULL; node = node->next, i++) {
        texts[i] = node->kind == DWI_STRING ? node->text : "";
        if (node->kind != DWI_STRING)
            dw_error(place->call->faults, DW_INPUT, "wrong-type", dw_address_index(place->call->arena, key_address(place, key), i),
                     "%s stands here\na string", dwi_tree_kind_words(node));
    }
    return texts;
}

/* ---- the plan --------------------------------------------------------------------------------------------- */

static void read_part(const struct place *place, void *thing)
{
    static const char *const grains[] = {[DW_ALONG] = "along", [DW_ACROSS] = "across", [DW_FREE] = "free"};
    struct dw_plan_part *part = thing;
    part->id = ask_text(place, "id");
    part->job = ask_text(place, "job");
    part->case_name = ask_text(place, "case");
    part->drawer = ask_text(place, "drawer");
    part->name = ask_text(place, "name");
    part->material = ask_text(place, "material");
    part->thickness = ask_length(place, "thickness");
    part->length = ask_length(place, "length");
    part->width = ask_length(place, "width");
    part->grain = (enum dw_grain)ask_word(place, "grain", grains, sizeof grains / sizeof *grains);
    part->pieces = ask_texts(place, "pieces", &part->count);
    const struct dwi_tree *finished = ask(place, "finished", DWI_OBJECT, "an object");
    if (finished != NULL) {
        const struct place inside = {.call = place->call, .node = finished, .address = key_address(place, "finished")};
        part->finished_length = ask_length(&inside, "length");
        part->finished_width = ask_length(&inside, "width");
    }
    if (ask_integer(place, "count") != (int64_t)part->count)
        dw_error(place->call->faults, DW_INPUT, "count-differs", key_address(place, "count"), "there are %zu pieces\nthe number of pieces", part->count);
}

enum { SPARE_MOST = 10000, GOODS_MOST = 1000000 };

static void read_source(const struct place *place, void *thing)
{
    static const char *const grains[] = {"length", "width"};
    static const char *const origins[] = {"bought", "rack"};
    struct dw_plan_source *source = thing;
    source->sheet = ask_text(place, "sheet");
    source->owned = ask_word(place, "from", origins, 2) == 1;
    source->rack_id = source->owned ? ask_text(place, "rack_id") : "";
    source->length = ask_length(place, "length");
    source->width = ask_length(place, "width");
    if (source->length == 0 || source->width == 0)
        dw_error(place->call->faults, DW_INPUT, "out-of-range", place->address, "this sheet has no size\na length and a width of more than 0");
    source->grain_across = ask_word(place, "grain", grains, 2) == 1;
    source->price = ask_integer(place, "price");
    source->value = ask_integer(place, "value");
    const struct dwi_tree *trim = ask(place, "trim", DWI_ARRAY, "an array of four lengths");
    if (trim != NULL && dwi_tree_count(trim) != 4)
        dw_error(place->call->faults, DW_INPUT, "wrong-type", key_address(place, "trim"), "%zu lengths stand here\nfour lengths", dwi_tree_count(trim));
    size_t i = 0;
    for (const struct dwi_tree *node = trim == NULL ? NULL : trim->first; node != NULL && i < 4; node = node->next, i++)
        source->trim[i] = integer_of(place->call, node, key_address(place, "trim"));
    const struct dwi_tree *count = dwi_tree_find(place->node, "count");
    source->count = count != NULL && count->kind == DWI_NULL ? DW_NO_LIMIT : ask_integer(place, "count");
    source->worth = dwi_tree_find(place->node, "worth") == NULL ? source->value : ask_integer(place, "worth");
    source->spare = dwi_tree_find(place->node, "spare") == NULL ? 0 : ask_integer(place, "spare");
    if (source->spare < 0 || source->spare > SPARE_MOST)
        dw_error(place->call->faults, DW_INPUT, "out-of-range", key_address(place, "spare"), "%lld stands here\n0 to %d sheets",
                 (long long)source->spare, SPARE_MOST);
}

/* The part of that id; DW_NO_INDEX with a fault when there is none. */
static size_t find_part(const struct place *place, const char *id)
{
    const struct dw_plan *plan = place->call->plan;
    for (size_t i = 0; i < plan->part_count; i++)
        if (strcmp(plan->parts[i].id, id) == 0)
            return i;
    dw_error(place->call->faults, DW_INPUT, "unknown-part", key_address(place, "part"), "there is no part \"%s\"\nthe id of a part", id);
    return DW_NO_INDEX;
}

static void read_node(const struct place *place, void *thing)
{
    static const char *const cuts[] = {[DW_RIP] = "rip", [DW_CROSSCUT] = "crosscut"};
    static const char *const offcuts[] = {"keep", "waste"};
    struct dw_plan_node *node = thing;
    *node = (struct dw_plan_node){.part = DW_NO_INDEX, .mark = ""};
    node->x = ask_length(place, "x");
    node->y = ask_length(place, "y");
    node->length = ask_length(place, "length");
    node->width = ask_length(place, "width");
    if (dwi_tree_find(place->node, "cut") != NULL) {
        node->use = DW_NODE_CUT;
        node->cut = (enum dw_cut)ask_word(place, "cut", cuts, 2);
        node->pieces = ask_objects(place, "pieces", sizeof *node->pieces, read_node, &node->piece_count);
    } else if (dwi_tree_find(place->node, "part") != NULL) {
        node->use = DW_NODE_PART;
        node->part = find_part(place, ask_text(place, "part"));
        node->mark = ask_text(place, "piece");
        node->turned = ask_bool(place, "quarter_turn");
    } else {
        node->use = ask_word(place, "offcut", offcuts, 2) == 0 ? DW_NODE_KEEP : DW_NODE_WASTE;
        node->mark = node->use == DW_NODE_KEEP ? ask_text(place, "mark") : "";
    }
}

/* Which of the sources it is cut from is looked up afterwards, by find_sources. */
static void read_sheet(const struct place *place, void *thing)
{
    struct dw_plan_sheet *sheet = thing;
    sheet->name = ask_text(place, "name");
    sheet->source = DW_NO_INDEX;
    const struct dwi_tree *root = ask(place, "cut", DWI_OBJECT, "an object");
    const struct place inside = {.call = place->call, .node = root, .address = key_address(place, "cut")};
    if (root != NULL)
        read_node(&inside, &sheet->root);
}

static void find_sources(const struct place *place, const struct dw_plan_material *material, struct dw_plan_sheet *sheets)
{
    const struct dwi_tree *array = dwi_tree_find(place->node, "sheets");
    size_t i = 0;
    for (const struct dwi_tree *node = array == NULL ? NULL : array->first; node != NULL && i < material->sheet_count; node = node->next, i++) {
        const struct place one = {.call = place->call, .node = node, .address = dw_address_index(place->call->arena, key_address(place, "sheets"), i)};
        if (node->kind != DWI_OBJECT)
            continue;
        const char *id = ask_text(&one, "sheet");
        for (size_t s = 0; s < material->source_count; s++)
            if (strcmp(material->sources[s].sheet, id) == 0)
                sheets[i].source = s;
        if (sheets[i].source == DW_NO_INDEX)
            dw_error(place->call->faults, DW_INPUT, "unknown-sheet", key_address(&one, "sheet"), "\"%s\" is not offered\nthe id of a sheet that is offered", id);
    }
}

/* The index of one of `count` things. */
static size_t ask_index(const struct place *place, const char *key, size_t count)
{
    const int64_t number = ask_integer(place, key);
    if (number >= 0 && (uint64_t)number < count)
        return (size_t)number;
    dw_error(place->call->faults, DW_INPUT, "out-of-range", key_address(place, key), "there is no number %lld here\na number from 0 to under %zu",
             (long long)number, count);
    return 0;
}

static size_t ask_index_or_none(const struct place *place, const char *key, size_t count)
{
    const struct dwi_tree *node = dwi_tree_find(place->node, key);
    return node != NULL && node->kind == DWI_NULL ? DW_NO_INDEX : ask_index(place, key, count);
}

/* Numbers of sheets and panels are held against their lists afterwards, by check_ladder. */
static void read_panel(const struct place *place, void *thing)
{
    static const char *const uses[] = {[DW_NODE_CUT] = "cut", [DW_NODE_PART] = "part", [DW_NODE_KEEP] = "keep", [DW_NODE_WASTE] = "waste"};
    struct dw_plan_panel *panel = thing;
    panel->name = ask_text(place, "name");
    panel->sheet = ask_index(place, "sheet", DW_NO_INDEX);
    panel->length = ask_length(place, "length");
    panel->width = ask_length(place, "width");
    panel->use = (enum dw_node_use)ask_word(place, "use", uses, sizeof uses / sizeof *uses);
}

static void read_pass(const struct place *place, void *thing)
{
    static const char *const cuts[] = {[DW_RIP] = "rip", [DW_CROSSCUT] = "crosscut"};
    struct dw_plan_pass *pass = thing;
    pass->step = ask_integer(place, "step");
    pass->panel = ask_index(place, "panel", DW_NO_INDEX);
    pass->cut = (enum dw_cut)ask_word(place, "cut", cuts, sizeof cuts / sizeof *cuts);
    pass->high = ask_bool(place, "from_high");
    if (dwi_tree_find(place->node, "over") != NULL)
        pass->over = ask_length(place, "over");
    pass->off = ask_index_or_none(place, "off", DW_NO_INDEX);
    pass->rest = ask_index_or_none(place, "rest", DW_NO_INDEX);
}

/* No panel is larger than its sheet. */
static bool is_within_sheet(const struct dw_plan_material *material, const struct dw_plan_panel *panel)
{
    if (panel->sheet >= material->sheet_count || material->sheets[panel->sheet].source == DW_NO_INDEX)
        return false;
    const struct dw_plan_source *source = &material->sources[material->sheets[panel->sheet].source];
    return panel->length <= source->length && panel->width <= source->width;
}

/* Each panel but the sheets comes from one pass over a panel that was there before and is cut once. */
static bool is_ladder(const struct plan_call *call, const struct dw_plan_material *material)
{
    const size_t count = material->panel_count;
    enum { ABSENT, THERE, CUT } *state = dw_arena_alloc(call->arena, count, sizeof *state);
    bool sound = count >= material->sheet_count;
    for (size_t i = 0; i < count; i++) {
        state[i] = i < material->sheet_count ? THERE : ABSENT;
        sound = sound && is_within_sheet(material, &material->panels[i]) && (i >= material->sheet_count || material->panels[i].sheet == i);
    }
    for (size_t i = 0; i < material->pass_count && sound; i++) {
        const struct dw_plan_pass *pass = &material->passes[i];
        const size_t makes[] = {pass->off, pass->rest};
        sound = pass->panel < count && state[pass->panel] == THERE && (i == 0 || pass->step >= material->passes[i - 1].step);
        for (size_t k = 0; k < 2 && sound; k++) {
            if (makes[k] == DW_NO_INDEX)
                continue;
            sound = makes[k] < count && state[makes[k]] == ABSENT && material->panels[makes[k]].sheet == material->panels[pass->panel].sheet;
            if (sound)
                state[makes[k]] = THERE;
        }
        if (sound)
            state[pass->panel] = CUT;
    }
    for (size_t i = 0; i < count && sound; i++)
        sound = state[i] != ABSENT;
    return sound;
}

static void read_ladder(const struct place *place, struct dw_plan_material *material)
{
    const size_t errors = place->call->faults->errors;
    if (dwi_tree_find(place->node, "panels") == NULL)
        return;
    material->panels = ask_objects(place, "panels", sizeof *material->panels, read_panel, &material->panel_count);
    material->passes = ask_objects(place, "passes", sizeof *material->passes, read_pass, &material->pass_count);
    if (place->call->faults->errors == errors && !is_ladder(place->call, material))
        dw_error(place->call->faults, DW_INPUT, "bad-ladder", key_address(place, "passes"),
                 "the passes do not follow from the sheets\nthe file as it was written");
}

static void read_material(const struct place *place, void *thing)
{
    struct dw_plan_material *material = thing;
    material->material = ask_text(place, "material");
    material->kerf = ask_length(place, "kerf");
    material->cost = ask_integer(place, "cost");
    material->lower_bound = ask_integer(place, "lower_bound");
    material->proved = ask_bool(place, "proved");
    material->sources = ask_objects(place, "offered", sizeof *material->sources, read_source, &material->source_count);
    struct dw_plan_sheet *sheets = ask_objects(place, "sheets", sizeof *sheets, read_sheet, &material->sheet_count);
    find_sources(place, material, sheets);
    material->sheets = sheets;
    read_ladder(place, material);
}

static void read_warning(const struct place *place, void *thing)
{
    struct dw_plan_warning *warning = thing;
    warning->code = ask_text(place, "code");
    warning->address = ask_text(place, "address");
    warning->wrong = ask_text(place, "wrong");
}

static void read_goods(const struct place *place, void *thing)
{
    struct dw_goods *goods = thing;
    goods->id = ask_text(place, "id");
    goods->what = ask_text(place, "what");
    goods->wanted = ask_integer(place, "wanted");
    goods->bought = ask_integer(place, "bought");
    if (goods->wanted < 0 || goods->bought < 0 || goods->bought > GOODS_MOST)
        dw_error(place->call->faults, DW_INPUT, "out-of-range", place->address, "so many packs cannot be\n0 to %d packs", GOODS_MOST);
}

static void read_given(const struct place *place, void *thing)
{
    struct dw_given *given = thing;
    given->job = ask_text(place, "job");
    given->address = ask_text(place, "address");
    given->value = ask_text(place, "value");
}

static void plan_body(void *context)
{
    struct plan_call *call = context;
    const struct place top = {.call = call, .node = call->tree, .address = ""};
    if (call->tree->kind != DWI_OBJECT) {
        dw_error(call->faults, DW_INPUT, "wrong-type", "", "%s stands here\na plan", dwi_tree_kind_words(call->tree));
        return;
    }
    if (!dwi_format_is_known(call->tree, 1, "plan", "", call->faults))
        return;
    if (dwi_tree_find(call->tree, "plan_id") == NULL && dwi_tree_find(call->tree, "materials") == NULL) {
        dw_error(call->faults, DW_INPUT, "no-plan", "plan_id", "this is no plan\nthe plan.json that drawerwright plan writes");
        return;
    }
    struct dw_plan *plan = dw_arena_alloc(call->arena, 1, sizeof *plan);
    call->plan = plan;
    const int64_t format = ask_integer(&top, "format");
    if (format != 1)
        dw_error(call->faults, DW_INPUT, "unknown-format", "format", "this plan is of format %lld\nformat 1", (long long)format);
    plan->plan_id = ask_text(&top, "plan_id");
    plan->follows = dwi_tree_find(top.node, "follows") == NULL ? "" : ask_text(&top, "follows");
    plan->seen = dwi_tree_find(top.node, "follows") == NULL ? 0 : ask_integer(&top, "seen");
    plan->program = ask_text(&top, "program");
    plan->jobs = ask_texts(&top, "jobs", &plan->job_count);
    plan->total = ask_integer(&top, "total");
    plan->lower_bound = ask_integer(&top, "lower_bound");
    plan->proved = ask_bool(&top, "proved");
    if (dwi_tree_find(top.node, "warnings") != NULL)
        plan->warnings = ask_objects(&top, "warnings", sizeof *plan->warnings, read_warning, &plan->warning_count);
    plan->parts = ask_objects(&top, "parts", sizeof *plan->parts, read_part, &plan->part_count);
    if (dwi_tree_find(top.node, "later") != NULL)
        plan->later = ask_objects(&top, "later", sizeof *plan->later, read_part, &plan->later_count);
    if (dwi_tree_find(top.node, "given") != NULL)
        plan->given = ask_objects(&top, "given", sizeof *plan->given, read_given, &plan->given_count);
    if (dwi_tree_find(top.node, "goods") != NULL)
        plan->goods = ask_objects(&top, "goods", sizeof *plan->goods, read_goods, &plan->goods_count);
    plan->materials = ask_objects(&top, "materials", sizeof *plan->materials, read_material, &plan->material_count);
}

/* `path` is the file; "" when it is none. */
static enum dw_status read_plan(const char *bytes, size_t length, const char *path, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_plan **plan)
{
    const size_t before = faults->errors;
    struct plan_call call = {.arena = arena, .faults = path[0] == '\0' ? faults : dw_faults_new()};
    call.tree = dwi_tree_read(bytes, length, &dwi_plan_limits, path, arena, faults);
    if (call.faults == NULL || (call.tree != NULL && !dw_arena_guard(arena, plan_body, &call)))
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", path, "memory ran out while the plan was read");
    if (call.faults != NULL && call.faults != faults) {
        dwi_faults_append_led(faults, call.faults, path, arena);
        dw_faults_free(call.faults);
    }
    if (faults->errors > before)
        return faults->status;
    *plan = call.plan;
    return DW_DONE;
}

enum dw_status dw_plan_read_text(const char *bytes, size_t length, struct dw_arena *arena, struct dw_faults *faults,
                                 const struct dw_plan **plan)
{
    *plan = NULL;
    return read_plan(bytes, length, "", arena, faults, plan);
}

enum dw_status dw_plan_read_file(const char *path, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan)
{
    size_t length = 0;
    *plan = NULL;
    const char *bytes = dwi_file_read(path, DW_PLAN_MOST, arena, faults, &length);
    return bytes == NULL ? faults->status : read_plan(bytes, length, path, arena, faults, plan);
}
