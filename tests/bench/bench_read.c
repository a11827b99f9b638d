/* bench_read.c - instances from JSON lines, one object a line, and known values from a table of commas and quotes. */
#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>

#include <cJSON.h>

static void *must(void *memory)
{
    if (memory == NULL) {
        fprintf(stderr, "dw-bench: out of memory\n");
        exit(3);
    }
    return memory;
}

struct instance *bench_add(struct instances *list, size_t part_count, size_t sheet_count)
{
    if (list->count == list->capacity) {
        list->capacity = list->capacity == 0 ? 64 : 2 * list->capacity;
        list->at = must(realloc(list->at, list->capacity * sizeof *list->at));
    }
    struct instance *instance = &list->at[list->count++];
    *instance = (struct instance){.request = {.part_count = part_count, .sheet_count = sheet_count, .first_cut = -1}};
    instance->parts = must(calloc(part_count + 1, sizeof *instance->parts));
    instance->sheets = must(calloc(sheet_count + 1, sizeof *instance->sheets));
    instance->request.parts = instance->parts;
    instance->request.sheets = instance->sheets;
    return instance;
}

void bench_free(struct instances *list)
{
    for (size_t i = 0; i < list->count; i++) {
        free(list->at[i].parts);
        free(list->at[i].sheets);
    }
    free(list->at);
}

/* A whole number at `key`, times `scale`; `absent` where it is null or not there. */
static int64_t number_at(const cJSON *object, const char *key, double scale, int64_t absent)
{
    const cJSON *value = cJSON_GetObjectItemCaseSensitive(object, key);
    return cJSON_IsNumber(value) ? (int64_t)llround(value->valuedouble * scale) : absent;
}

static void read_sheets(struct instance *instance, const cJSON *sheets)
{
    size_t s = 0;
    const cJSON *object = NULL;
    cJSON_ArrayForEach(object, sheets)
    {
        struct dw_cut_sheet *sheet = &instance->sheets[s++];
        sheet->length = number_at(object, "length", 1, 0);
        sheet->width = number_at(object, "width", 1, 0);
        sheet->count = number_at(object, "count", 1, -1);
        sheet->price = number_at(object, "cost", 100, -1);
        instance->in_money |= sheet->price >= 0;
    }
    for (s = 0; s < instance->request.sheet_count; s++) {
        struct dw_cut_sheet *sheet = &instance->sheets[s];
        if (sheet->price < 0)
            sheet->price = instance->request.sheet_count == 1 ? 1 : sheet->length * sheet->width;
        sheet->value = sheet->price;
    }
}

/* Returns how many items state a profit. */
static size_t read_items(struct instance *instance, const cJSON *items)
{
    size_t p = 0, profits = 0;
    const cJSON *object = NULL;
    cJSON_ArrayForEach(object, items)
    {
        struct dw_cut_part *part = &instance->parts[p++];
        part->length = number_at(object, "length", 1, 0);
        part->width = number_at(object, "width", 1, 0);
        part->count = number_at(object, "count", 1, 1);
        const cJSON *turn = cJSON_GetObjectItemCaseSensitive(object, "turn");
        instance->own_turns |= turn != NULL;
        part->turn = cJSON_IsTrue(turn);
        profits += cJSON_IsNumber(cJSON_GetObjectItemCaseSensitive(object, "profit")) ? 1 : 0;
    }
    return profits;
}

static void name_set(struct instance *instance, const char *path)
{
    const char *slash = strrchr(path, '/');
    snprintf(instance->set, sizeof instance->set, "%s", slash == NULL ? path : slash + 1);
    instance->set[strcspn(instance->set, ".")] = '\0';
    char *half = strstr(instance->set, "-odd");
    if (half != NULL)
        *half = '\0';
}

/* One line; false when it is no instance. *skipped rises for one that asks for value. */
static bool read_line(const char *line, const char *path, struct instances *list, size_t *skipped)
{
    cJSON *root = cJSON_Parse(line);
    const cJSON *items = cJSON_GetObjectItemCaseSensitive(root, "items");
    const cJSON *sheets = cJSON_GetObjectItemCaseSensitive(root, "sheets");
    const bool whole = cJSON_IsArray(items) && cJSON_IsArray(sheets);
    if (whole) {
        struct instance *instance = bench_add(list, (size_t)cJSON_GetArraySize(items), (size_t)cJSON_GetArraySize(sheets));
        const cJSON *name = cJSON_GetObjectItemCaseSensitive(root, "name");
        snprintf(instance->name, sizeof instance->name, "%s", cJSON_IsString(name) ? name->valuestring : "?");
        name_set(instance, path);
        instance->request.kerf = number_at(root, "kerf", 1, 0);
        read_sheets(instance, sheets);
        if (read_items(instance, items) == instance->request.part_count) {
            free(instance->parts);
            free(instance->sheets);
            list->count--;
            ++*skipped;
        }
    }
    cJSON_Delete(root);
    return whole;
}

bool bench_read(const char *path, struct instances *list)
{
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        perror(path);
        return false;
    }
    char *line = NULL;
    size_t capacity = 0, skipped = 0;
    bool whole = true;
    while (whole && getline(&line, &capacity, file) > 0)
        whole = line[0] == '\n' || read_line(line, path, list, &skipped);
    if (!whole)
        fprintf(stderr, "%s: a line is no instance: expected an object with \"sheets\" and \"items\"\n", path);
    if (skipped > 0)
        fprintf(stderr, "%s: %zu instances skipped: they ask for the greatest value of one sheet\n", path, skipped);
    free(line);
    fclose(file);
    return whole;
}

/* The next field of a comma-separated line, quotes taken off; moves *at behind it. */
static void next_field(const char **at, char *field, size_t size)
{
    size_t length = 0;
    bool quoted = false;
    for (; **at != '\0' && **at != '\n' && (quoted || **at != ','); ++*at) {
        if (**at == '"')
            quoted = !quoted;
        else if (length + 1 < size)
            field[length++] = **at;
    }
    field[length] = '\0';
    if (**at == ',')
        ++*at;
}

bool bench_read_known(const char *path, struct known *known)
{
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        perror(path);
        return false;
    }
    char line[512], number[32];
    while (fgets(line, sizeof line, file) != NULL) {
        known->rows = must(realloc(known->rows, (known->count + 1) * sizeof *known->rows));
        struct known_row *row = &known->rows[known->count++];
        const char *at = line;
        next_field(&at, row->set, sizeof row->set);
        next_field(&at, row->instance, sizeof row->instance);
        next_field(&at, row->what, sizeof row->what);
        next_field(&at, number, sizeof number);
        row->value = strtoll(number, NULL, 10);
    }
    fclose(file);
    return true;
}

void bench_free_known(struct known *known)
{
    free(known->rows);
}

int64_t bench_known_value(const struct known *known, const struct instance *instance, int turns, int first_cut, bool turning)
{
    if (turns == 3 || (turns == 0 && first_cut >= 0))
        return -1;
    for (size_t r = 0; r < known->count; r++) {
        const struct known_row *row = &known->rows[r];
        if (strcmp(row->set, instance->set) != 0 || strcmp(row->instance, instance->name) != 0)
            continue;
        const bool strips = strstr(row->what, "strips along the length") != NULL;
        if (strncmp(row->what, "fewest sheets", 13) == 0 &&
            (strstr(row->what, turns == 0 ? "any stages" : "two stages") != NULL) && strips == (first_cut == DW_RIP) &&
            (strstr(row->what, "no turning") == NULL) == turning)
            return row->value;
    }
    return -1;
}
