/* fault.c - the list of faults. It owns an arena; adding one runs under a guard of its own. */
#include <drawerwright/fault.h>

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

/* The list and the store behind it; `list` is first, so that a list is its store. */
struct store {
    struct dw_faults list;
    struct dw_arena *arena;
    struct dw_fault *entries;
    size_t capacity;
};

static struct store *store_of(struct dw_faults *faults)
{
    return (struct store *)faults;
}

struct addition {
    struct store *store;
    struct dw_fault fault;
    const char *format;
    va_list *arguments;
};

struct dw_faults *dw_faults_new(void)
{
    struct dw_arena *arena = dw_arena_new();
    struct store *store = arena == NULL ? NULL : calloc(1, sizeof *store);
    if (store == NULL) {
        dw_arena_free(arena);
        return NULL;
    }
    store->arena = arena;
    return &store->list;
}

void dw_faults_free(struct dw_faults *faults)
{
    if (faults == NULL)
        return;
    dw_arena_free(store_of(faults)->arena);
    free(faults);
}

/* Copies one fault into the store; wrong and cure are already whole. */
static void keep(struct store *store, struct dw_fault fault)
{
    struct dw_arena *arena = store->arena;
    store->entries = dw_arena_grow(arena, store->entries, store->list.count, &store->capacity, sizeof *store->entries);
    store->list.at = store->entries;
    fault.code = dw_arena_string(arena, fault.code);
    fault.address = dw_arena_string(arena, fault.address);
    fault.wrong = dw_arena_string(arena, fault.wrong);
    fault.cure = dw_arena_string(arena, fault.cure);
    store->entries[store->list.count++] = fault;
}

/* The format was checked where dw_error or dw_warn was called; through the guard's context the compiler loses sight of that. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void add_words(struct dw_text *text, const struct addition *addition)
{
    dw_text_addv(text, addition->format, *addition->arguments);
}
#pragma GCC diagnostic pop

static void add_body(void *context)
{
    struct addition *addition = context;
    struct dw_text text = dw_text_in(addition->store->arena);
    add_words(&text, addition);
    char *newline = strchr(text.bytes, '\n');
    addition->fault.wrong = text.bytes;
    addition->fault.cure = "";
    if (newline != NULL) {
        *newline = '\0';
        addition->fault.cure = newline + 1;
    }
    keep(addition->store, addition->fault);
}

static void count(struct dw_faults *faults, const struct dw_fault *fault, bool kept)
{
    if (fault->grade == DW_ERROR)
        faults->errors++;
    else
        faults->warnings++;
    if (fault->grade == DW_ERROR && fault->status > faults->status)
        faults->status = fault->status;
    if (!kept)
        faults->out_of_memory = true;
}

void dw_error(struct dw_faults *faults, enum dw_status status, const char *code, const char *address,
              const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    struct addition addition = {.store = store_of(faults),
                                .fault = {.grade = DW_ERROR, .status = status, .code = code, .address = address},
                                .format = format,
                                .arguments = &arguments};
    count(faults, &addition.fault, dw_arena_guard(addition.store->arena, add_body, &addition));
    va_end(arguments);
}

void dw_warn(struct dw_faults *faults, const char *code, const char *address, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    struct addition addition = {.store = store_of(faults),
                                .fault = {.grade = DW_WARNING, .code = code, .address = address},
                                .format = format,
                                .arguments = &arguments};
    count(faults, &addition.fault, dw_arena_guard(addition.store->arena, add_body, &addition));
    va_end(arguments);
}

struct appending {
    struct store *into;
    const struct dw_fault *fault;
    const char *prefix;
};

static void append_body(void *context)
{
    const struct appending *appending = context;
    struct dw_fault fault = *appending->fault;
    fault.address = dw_arena_format(appending->into->arena, "%s%s", appending->prefix, fault.address);
    keep(appending->into, fault);
}

void dw_faults_append(struct dw_faults *into, const struct dw_faults *from, const char *prefix)
{
    for (size_t i = 0; i < from->count; i++) {
        struct appending appending = {.into = store_of(into), .fault = &from->at[i], .prefix = prefix};
        count(into, &from->at[i], dw_arena_guard(appending.into->arena, append_body, &appending));
    }
    if (from->out_of_memory)
        into->out_of_memory = true;
}

const char *dw_grade_word(enum dw_grade grade)
{
    return grade == DW_ERROR ? "error" : "warning";
}
