/* read_keys.c - one reader for every object of a job file.
 *
 * For each object: keys that are unknown or stand twice are reported; then the rows of its table are taken in order (so that a shop is
 * known before the cases that name its materials), each value read by the kind of its row and put where the row says. A value that is no
 * object may stand for one key of it ("rail": "3/4"), or for all ("trim": "1/4"), where the table allows that.
 */
#include "read_keys.h"

#include <stdint.h>
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/fault.h>
#include <drawerwright/memory.h>

#include "nearest.h"

enum { READINGS_MOST = 100, THINGS_MOST = 20000, BARE_MOST = 1000 };

static bool read_value(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address);

static void wrong_type(struct dwi_reading *reading, const struct dwi_tree *node, const char *address, const char *expected, const char *example)
{
    dw_error(reading->faults, DW_INPUT, "wrong-type", address, "%s stands here\n%s, such as %s", dwi_tree_kind_words(node), expected, example);
}

/* ---- single values ---------------------------------------------------------------------------------------- */

static bool is_scalar(const struct dwi_tree *node)
{
    return node->kind == DWI_STRING || node->kind == DWI_NUMBER;
}

/* Parsers say "expected a length such as ..."; a cure says "a length such as ...". */
static const char *as_cure(const char *why)
{
    static const char lead[] = "expected ";
    return strncmp(why, lead, sizeof lead - 1) == 0 ? why + sizeof lead - 1 : why;
}

/* A number of decimals that no currency has is refused by its own row in the end; amounts are read all the same, with the most there may be. */
static int decimals_of(const struct dw_job *job)
{
    const int said = job->shop.prices.currency.decimals;
    return said < 0 || said > DW_DECIMALS_MOST ? DW_DECIMALS_MOST : said;
}

static bool read_parsed(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    const char *why = "";
    if (dw_key_parse(key, thing, node->text, reading->unit, decimals_of(reading->job), &why))
        return true;
    dw_error(reading->faults, DW_INPUT, "not-understood", address, "\"%s\" cannot be read\n%s", node->text, as_cure(why));
    return false;
}

/* Lengths, money, weights, ...: a string or a number, with its digits as they stand in the file. */
static bool read_amount(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (is_scalar(node))
        return read_parsed(reading, key, node, thing, address);
    wrong_type(reading, node, address, key->meaning, key->example);
    return false;
}

static bool read_count(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (node->kind == DWI_NUMBER)
        return read_parsed(reading, key, node, thing, address);
    wrong_type(reading, node, address, "a whole number", key->example);
    return false;
}

static bool read_text(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (node->kind != DWI_STRING) {
        wrong_type(reading, node, address, "a string", key->example);
        return false;
    }
    return dw_key_parse(key, thing, node->text, reading->unit, 0, NULL);
}

static bool read_yes_no(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (node->kind != DWI_TRUE && node->kind != DWI_FALSE) {
        wrong_type(reading, node, address, "true or false", key->example);
        return false;
    }
    dw_key_set_number(key, thing, node->kind == DWI_TRUE ? 1 : 0);
    return true;
}

static bool is_word(const struct dw_key *key, const char *text)
{
    for (const struct dw_word *word = key->words; word->word != NULL; word++)
        if (strcmp(word->word, text) == 0)
            return true;
    return false;
}

static const char *suggest_word(struct dw_arena *arena, const struct dw_key *key, const char *wrong)
{
    size_t count = 0;
    while (key->words[count].word != NULL)
        count++;
    const char **words = dw_arena_alloc(arena, count, sizeof *words);
    for (size_t i = 0; i < count; i++)
        words[i] = key->words[i].word;
    return dwi_suggest(arena, wrong, words, count);
}

static bool read_word(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (node->kind != DWI_STRING) {
        wrong_type(reading, node, address, "a string", key->example);
        return false;
    }
    if (is_word(key, node->text))
        return dw_key_parse(key, thing, node->text, reading->unit, 0, NULL);
    dw_error(reading->faults, DW_INPUT, "unknown-word", address, "\"%s\" is not known here\n%s", node->text,
             suggest_word(reading->arena, key, node->text));
    return false;
}

/* ---- names of materials, slides, banding ------------------------------------------------------------------ */

/* The ids that a reference may name, in the order of their list. */
static const char *const *ids_for(const struct dwi_reading *reading, enum dw_key_kind kind, size_t *count)
{
    const struct dw_shop *shop = &reading->job->shop;
    *count = kind == DW_KEY_MATERIAL ? shop->material_count : kind == DW_KEY_SLIDE ? shop->slide_count : shop->banding_count;
    const char **ids = dw_arena_alloc(reading->arena, *count, sizeof *ids);
    for (size_t i = 0; i < *count; i++) {
        const char *id = kind == DW_KEY_MATERIAL ? shop->materials[i].id : kind == DW_KEY_SLIDE ? shop->slides[i].id : shop->bandings[i].id;
        ids[i] = id == NULL ? "" : id;
    }
    return ids;
}

static bool read_reference(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    static const char *const codes[] = {
        [DW_KEY_MATERIAL] = "unknown-material", [DW_KEY_SLIDE] = "unknown-slide", [DW_KEY_BANDING] = "unknown-banding"};
    static const char *const lists[] = {
        [DW_KEY_MATERIAL] = "shop.materials", [DW_KEY_SLIDE] = "shop.slides", [DW_KEY_BANDING] = "shop.banding"};
    if (node->kind != DWI_STRING) {
        wrong_type(reading, node, address, "an id", key->example);
        return false;
    }
    size_t count = 0;
    const char *const *ids = ids_for(reading, key->kind, &count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(ids[i], node->text) == 0) {
            dw_key_set_number(key, thing, (int64_t)i);
            return true;
        }
    dw_error(reading->faults, DW_INPUT, codes[key->kind], address, "\"%s\" is not in %s\n%s", node->text, lists[key->kind],
             count == 0 ? "an entry of that id there" : dwi_suggest(reading->arena, node->text, ids, count));
    return false;
}

/* ---- readings and lists ----------------------------------------------------------------------------------- */

static bool read_one_reading(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, dw_length *at, const char *address)
{
    const struct dw_key length = {.kind = DW_KEY_LENGTH, .size = sizeof *at, .meaning = key->meaning, .example = "\"24 1/2\""};
    return read_amount(reading, &length, node, at, address);
}

static bool read_readings(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    const size_t count = node->kind == DWI_ARRAY ? dwi_tree_count(node) : 1;
    if (count == 0 || count > READINGS_MOST) {
        dw_error(reading->faults, DW_INPUT, "no-readings", address, "%zu readings stand here\nfrom 1 to %d", count, READINGS_MOST);
        return false;
    }
    dw_length *at = dw_arena_alloc(reading->arena, count, sizeof *at);
    bool good = true;
    if (node->kind != DWI_ARRAY)
        good = read_one_reading(reading, key, node, at, address);
    size_t i = 0;
    for (const struct dwi_tree *one = node->kind == DWI_ARRAY ? node->first : NULL; one != NULL; one = one->next, i++)
        good = read_one_reading(reading, key, one, &at[i], dw_address_index(reading->arena, address, i)) && good;
    const struct dw_readings readings = {.at = at, .count = count};
    if (good)
        memcpy((char *)thing + key->offset, &readings, sizeof readings);
    return good;
}

/* Makes a list of `count` cleared things and hangs it in; NULL with a fault when the file asks for too many. */
static char *new_list(struct dwi_reading *reading, const struct dw_key *key, void *thing, size_t count, const char *address)
{
    if (count > THINGS_MOST || reading->things + count > THINGS_MOST) {
        dw_error(reading->faults, DW_INPUT, "too-many", address, "the file lists more than %d things\nfewer of them, or several jobs", THINGS_MOST);
        return NULL;
    }
    reading->things += count;
    char *items = dw_arena_alloc(reading->arena, count, key->object->size);
    for (size_t i = 0; i < count; i++)
        dw_object_clear(key->object, items + i * key->object->size);
    memcpy((char *)thing + key->offset, &items, sizeof items);
    memcpy((char *)thing + key->count_offset, &count, sizeof count);
    return items;
}

/* "drawers": 4 */
static bool read_bare_count(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    int64_t count = 0;
    const struct dw_key number = {.kind = DW_KEY_COUNT, .size = sizeof count};
    if (!dw_key_parse(&number, &count, node->text, reading->unit, 0, NULL) || count < 1 || count > BARE_MOST) {
        dw_error(reading->faults, DW_INPUT, "not-understood", address, "%s cannot be read\na number from 1 to %d, or an array", node->text, BARE_MOST);
        return false;
    }
    return new_list(reading, key, thing, (size_t)count, address) != NULL;
}

static bool read_list(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    if (node->kind == DWI_NUMBER && key->object->bare_count != NULL)
        return read_bare_count(reading, key, node, thing, address);
    if (node->kind != DWI_ARRAY) {
        wrong_type(reading, node, address, "an array", key->example);
        return false;
    }
    /* hung in before its things are read: a fault in one must not hide the others' ids */
    char *items = new_list(reading, key, thing, dwi_tree_count(node), address);
    if (items == NULL)
        return false;
    size_t i = 0;
    for (const struct dwi_tree *one = node->first; one != NULL; one = one->next, i++)
        dwi_read_object(reading, key->object, one, items + i * key->object->size, dw_address_index(reading->arena, address, i));
    return true;
}

/* A shop may count in another unit than its job. */
static void read_shop(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    const struct dwi_tree *units = node->kind == DWI_OBJECT ? dwi_tree_find(node, "units") : NULL;
    const enum dw_unit outside = reading->unit;
    if (units != NULL && units->kind == DWI_STRING)
        reading->unit = strcmp(units->text, "mm") == 0 ? DW_MILLIMETER : DW_IN;
    dwi_read_object(reading, key->object, node, (char *)thing + key->offset, address);
    reading->unit = outside;
}

static bool read_value(struct dwi_reading *reading, const struct dw_key *key, const struct dwi_tree *node, void *thing, const char *address)
{
    switch (key->kind) {
    case DW_KEY_TEXT:
        return read_text(reading, key, node, thing, address);
    case DW_KEY_LENGTH:
    case DW_KEY_MONEY:
    case DW_KEY_MASS:
    case DW_KEY_PRESSURE:
    case DW_KEY_DENSITY:
    case DW_KEY_PERCENT:
        return read_amount(reading, key, node, thing, address);
    case DW_KEY_COUNT:
        return read_count(reading, key, node, thing, address);
    case DW_KEY_YES_NO:
        return read_yes_no(reading, key, node, thing, address);
    case DW_KEY_WORD:
        return read_word(reading, key, node, thing, address);
    case DW_KEY_READINGS:
        return read_readings(reading, key, node, thing, address);
    case DW_KEY_MATERIAL:
    case DW_KEY_SLIDE:
    case DW_KEY_BANDING:
        return read_reference(reading, key, node, thing, address);
    case DW_KEY_LIST:
        return read_list(reading, key, node, thing, address);
    case DW_KEY_OBJECT:
        break;
    }
    if (key->object == &dw_shop_object)
        read_shop(reading, key, node, thing, address);
    else
        dwi_read_object(reading, key->object, node, (char *)thing + key->offset, address);
    return true;
}

/* ---- objects ---------------------------------------------------------------------------------------------- */

static const char *suggest_key(struct dw_arena *arena, const struct dw_object *object, const char *wrong)
{
    const char **names = dw_arena_alloc(arena, object->count, sizeof *names);
    for (size_t i = 0; i < object->count; i++)
        names[i] = object->keys[i].key;
    return dwi_suggest(arena, wrong, names, object->count);
}

static void check_keys(struct dwi_reading *reading, const struct dw_object *object, const struct dwi_tree *node, const char *address)
{
    for (const struct dwi_tree *child = node->first; child != NULL; child = child->next) {
        const char *place = dw_address_key(reading->arena, address, child->key);
        if (dw_object_key(object, child->key) == NULL)
            dw_error(reading->faults, DW_INPUT, "unknown-key", place, "the key \"%s\" is not known in %s\n%s", child->key, object->name,
                     suggest_key(reading->arena, object, child->key));
        else if (dwi_tree_find(node, child->key) != child)
            dw_error(reading->faults, DW_INPUT, "key-twice", place, "the key \"%s\" stands twice\none of the two", child->key);
    }
}

/* A key that was given may say what another one is; that other one, when it is written too, holds. Two keys that say different things
 * contradict each other. */
static void imply(struct dwi_reading *reading, const struct dw_object *object, const struct dwi_tree *node, void *thing, const char *address)
{
    const struct dw_key *first = NULL;
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->implies == NULL || dwi_tree_find(node, key->key) == NULL)
            continue;
        if (first != NULL)
            dw_error(reading->faults, DW_INPUT, "two-ways", address, "\"%s\" and \"%s\" say it in two ways\none of the two", first->key, key->key);
        else if (dwi_tree_find(node, key->implies) == NULL)
            dw_key_set_number(dw_object_key(object, key->implies), thing, key->implied_value);
        first = key;
    }
}

/* A value that is no object, in place of one. */
static void read_bare(struct dwi_reading *reading, const struct dw_object *object, const struct dwi_tree *node, void *thing, const char *address)
{
    const struct dw_key *first = object->bare[0] == NULL ? NULL : dw_object_key(object, object->bare[0]);
    const struct dw_key *second = object->bare[1] == NULL ? NULL : dw_object_key(object, object->bare[1]);
    const bool fits_first = first != NULL && (second == NULL || (node->kind == DWI_STRING && is_word(first, node->text)));
    const struct dw_key *key = fits_first ? first : second;
    if (object->one_for_all && is_scalar(node)) {
        for (size_t i = 0; i < object->count; i++)
            if (!read_value(reading, &object->keys[i], node, thing, address))
                break;
    } else if (key != NULL && is_scalar(node)) {
        if (read_value(reading, key, node, thing, address) && key->implies != NULL)
            dw_key_set_number(dw_object_key(object, key->implies), thing, key->implied_value);
    } else {
        wrong_type(reading, node, address, "an object", object->count > 0 ? dw_arena_format(reading->arena, "{\"%s\": %s}", object->keys[0].key, object->keys[0].example) : "{}");
    }
}

void dwi_read_object(struct dwi_reading *reading, const struct dw_object *object, const struct dwi_tree *node, void *thing,
                     const char *address)
{
    if (node->kind != DWI_OBJECT) {
        read_bare(reading, object, node, thing, address);
        return;
    }
    check_keys(reading, object, node, address);
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        const struct dwi_tree *child = dwi_tree_find(node, key->key);
        if (child != NULL)
            (void)read_value(reading, key, child, thing, dw_address_key(reading->arena, address, key->key));
    }
    imply(reading, object, node, thing, address);
}
