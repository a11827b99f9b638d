/* json_job.c - a job as the file that would give it: every key that has a value, in the order of the tables, written so that reading it
 * gives the very same job. Lengths are fractions of an inch or millimeters, whichever is exact. */
#include <drawerwright/files.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include <string.h>

#include "amounts_show.h"
#include "json_write.h"

struct writing {
    struct dwi_json json;
    struct dw_arena *arena;
    const struct dw_job *job;
    enum dw_unit unit;
};

static void write_object(struct writing *writing, const struct dw_object *object, const void *thing);

static const char *id_of(const struct writing *writing, enum dw_key_kind kind, int64_t index)
{
    const struct dw_shop *shop = &writing->job->shop;
    const size_t at = (size_t)index;
    if (kind == DW_KEY_MATERIAL)
        return at < shop->material_count ? shop->materials[at].id : NULL;
    if (kind == DW_KEY_SLIDE)
        return at < shop->slide_count ? shop->slides[at].id : NULL;
    return at < shop->banding_count ? shop->bandings[at].id : NULL;
}

/* The text of a value that is held as a number and written as a string; NULL when it is not given. */
static const char *text_of(const struct writing *writing, const struct dw_key *key, int64_t number)
{
    const int decimals = writing->job->shop.prices.currency.decimals;
    switch (key->kind) {
    case DW_KEY_MONEY:
        return dw_money_show(writing->arena, number, decimals);
    case DW_KEY_LENGTH:
        return dwi_length_exact(writing->arena, number, writing->unit);
    case DW_KEY_MASS:
        return dwi_mass_exact(writing->arena, number);
    case DW_KEY_PRESSURE:
        return dw_arena_format(writing->arena, "%lld Pa", (long long)number);
    case DW_KEY_DENSITY:
        return dwi_density_exact(writing->arena, number);
    case DW_KEY_PERCENT:
        return dwi_percent_exact(writing->arena, number);
    case DW_KEY_MATERIAL:
    case DW_KEY_SLIDE:
    case DW_KEY_BANDING:
        return id_of(writing, key->kind, number);
    case DW_KEY_WORD: {
        const char *word = dw_word_for(key->words, (int)number);
        return word[0] == '\0' ? NULL : word;
    }
    case DW_KEY_TEXT:
    case DW_KEY_COUNT:
    case DW_KEY_YES_NO:
    case DW_KEY_READINGS:
    case DW_KEY_OBJECT:
    case DW_KEY_LIST:
        break;
    }
    return NULL;
}

static void write_number(struct writing *writing, const struct dw_key *key, const void *thing)
{
    const int64_t number = dw_key_number(key, thing);
    const bool word = key->kind == DW_KEY_WORD;
    if (number == DW_UNSET || (!word && number == -1)) /* DW_NO_INDEX, DW_NO_LIMIT, DW_ASK_ABOVE: not given */
        return;
    if (key->kind == DW_KEY_COUNT) {
        dwi_json_integer(&writing->json, key->key, number + key->less);
        return;
    }
    if (key->kind == DW_KEY_YES_NO) {
        dwi_json_bool(&writing->json, key->key, number != 0);
        return;
    }
    const char *text = text_of(writing, key, number);
    if (text != NULL)
        dwi_json_string(&writing->json, key->key, text);
}

static void write_readings(struct writing *writing, const struct dw_key *key, const void *thing)
{
    struct dw_readings readings;
    memcpy(&readings, (const char *)thing + key->offset, sizeof readings);
    if (readings.count == 0)
        return;
    dwi_json_flat_array(&writing->json, key->key);
    for (size_t i = 0; i < readings.count; i++)
        dwi_json_string(&writing->json, NULL, dwi_length_exact(writing->arena, readings.at[i], writing->unit));
    dwi_json_end_array(&writing->json);
}

static void write_text(struct writing *writing, const struct dw_key *key, const void *thing)
{
    const char *text = NULL;
    memcpy(&text, (const char *)thing + key->offset, sizeof text);
    if (text != NULL)
        dwi_json_string(&writing->json, key->key, text);
}

static void write_list(struct writing *writing, const struct dw_key *key, const void *thing)
{
    const char *items = NULL;
    size_t count = 0;
    memcpy(&items, (const char *)thing + key->offset, sizeof items);
    memcpy(&count, (const char *)thing + key->count_offset, sizeof count);
    if (count == 0)
        return;
    dwi_json_array(&writing->json, key->key);
    for (size_t i = 0; i < count; i++) {
        dwi_json_object(&writing->json, NULL);
        write_object(writing, key->object, items + i * key->object->size);
        dwi_json_end_object(&writing->json);
    }
    dwi_json_end_array(&writing->json);
}

/* A key that implies a word is written when it holds the value of that word, or when the word is written beside it. */
static bool is_told(const struct dw_object *object, const struct dw_key *key, const void *thing)
{
    if (key->implies == NULL)
        return true;
    const struct dw_key *word = dw_object_key(object, key->implies);
    const int now = (int)dw_key_number(word, thing);
    const bool both_written = dw_word_for(word->words, now)[0] != '\0' && dw_word_for(word->words, key->implied_value)[0] != '\0';
    return now == key->implied_value || both_written;
}

static void write_key(struct writing *writing, const struct dw_key *key, const void *thing)
{
    const enum dw_unit outside = writing->unit;
    switch (key->kind) {
    case DW_KEY_TEXT:
        write_text(writing, key, thing);
        return;
    case DW_KEY_READINGS:
        write_readings(writing, key, thing);
        return;
    case DW_KEY_LIST:
        write_list(writing, key, thing);
        return;
    case DW_KEY_OBJECT:
        if (key->object == &dw_shop_object)
            writing->unit = writing->job->shop.unit;
        dwi_json_object(&writing->json, key->key);
        write_object(writing, key->object, (const char *)thing + key->offset);
        dwi_json_end_object(&writing->json);
        writing->unit = outside;
        return;
    case DW_KEY_LENGTH:
    case DW_KEY_MONEY:
    case DW_KEY_MASS:
    case DW_KEY_PRESSURE:
    case DW_KEY_DENSITY:
    case DW_KEY_PERCENT:
    case DW_KEY_COUNT:
    case DW_KEY_YES_NO:
    case DW_KEY_WORD:
    case DW_KEY_MATERIAL:
    case DW_KEY_SLIDE:
    case DW_KEY_BANDING:
        write_number(writing, key, thing);
        return;
    }
}

static void write_object(struct writing *writing, const struct dw_object *object, const void *thing)
{
    for (size_t i = 0; i < object->count; i++)
        if (is_told(object, &object->keys[i], thing))
            write_key(writing, &object->keys[i], thing);
}

enum dw_status dw_json_job(const struct dw_job *job, struct dw_text *out)
{
    struct writing writing = {.json = dwi_json_to(out), .arena = out->arena, .job = job, .unit = job->unit};
    dwi_json_object(&writing.json, NULL);
    write_object(&writing, &dw_job_object, job);
    dwi_json_end_object(&writing.json);
    dwi_json_finish(&writing.json);
    return DW_DONE;
}
