/* fields.c - what can be done with any thing that has a table of keys: clear, copy, inherit, fill in defaults.
 *
 * A row says where its member lies and how wide it is; everything here reaches members through those two figures only.
 * Whole numbers of 8 bytes say "not given" by DW_UNSET, indices by DW_NO_INDEX, answers by DW_ASK_ABOVE, words by 0 or by
 * the word that their default names.
 */
#include "fields.h"

#include <assert.h>
#include <limits.h>
#include <string.h>

#include <drawerwright/memory.h>

static void *member(const struct dw_key *key, void *thing)
{
    return (char *)thing + key->offset;
}

static const void *member_of(const struct dw_key *key, const void *thing)
{
    return (const char *)thing + key->offset;
}

static const char *text_of(const struct dw_key *key, const void *thing)
{
    const char *text = NULL;
    memcpy(&text, member_of(key, thing), sizeof text);
    return text;
}

static size_t readings_count(const struct dw_key *key, const void *thing)
{
    struct dw_readings readings;
    memcpy(&readings, member_of(key, thing), sizeof readings);
    return readings.count;
}

int64_t dw_key_number(const struct dw_key *key, const void *thing)
{
    const void *place = member_of(key, thing);
    if (key->size == sizeof(bool)) {
        bool answer = false;
        memcpy(&answer, place, sizeof answer);
        return answer ? 1 : 0;
    }
    if (key->size == sizeof(int)) {
        int small = 0;
        memcpy(&small, place, sizeof small);
        return small;
    }
    int64_t number = 0;
    assert(key->size == sizeof number);
    memcpy(&number, place, sizeof number);
    return number;
}

void dw_key_set_number(const struct dw_key *key, void *thing, int64_t number)
{
    void *place = member(key, thing);
    if (key->size == sizeof(bool)) {
        const bool answer = number != 0;
        memcpy(place, &answer, sizeof answer);
    } else if (key->size == sizeof(int)) {
        const int small = number > INT_MAX ? INT_MAX : number < INT_MIN ? INT_MIN : (int)number; /* out of any row's limits all the same */
        memcpy(place, &small, sizeof small);
    } else {
        assert(key->size == sizeof number);
        memcpy(place, &number, sizeof number);
    }
}

static bool is_reference(const struct dw_key *key)
{
    return key->kind == DW_KEY_MATERIAL || key->kind == DW_KEY_SLIDE || key->kind == DW_KEY_BANDING;
}

static int64_t word_value(const struct dw_word *words, const char *word)
{
    for (; words->word != NULL; words++)
        if (strcmp(words->word, word) == 0)
            return words->value;
    return 0;
}

/* What the member holds while nothing is given. Narrow members that have no room for "not given" hold their default. */
static int64_t unset_number(const struct dw_key *key)
{
    if (is_reference(key))
        return -1; /* DW_NO_INDEX */
    if (key->kind == DW_KEY_WORD)
        return key->inch == NULL ? 0 : word_value(key->words, key->inch);
    if (key->kind == DW_KEY_YES_NO && key->size == sizeof(bool))
        return strcmp(key->inch, "true") == 0;
    if (key->kind == DW_KEY_YES_NO)
        return DW_ASK_ABOVE;
    if (key->size == sizeof(int))
        return key->inch[0] - '0';
    return DW_UNSET;
}

bool dw_key_is_set(const struct dw_key *key, const void *thing)
{
    if (key->kind == DW_KEY_TEXT)
        return text_of(key, thing) != NULL;
    if (key->kind == DW_KEY_READINGS)
        return readings_count(key, thing) != 0;
    if (key->kind == DW_KEY_LIST)
        return dwi_list_count(key, thing) != 0;
    if (key->kind == DW_KEY_OBJECT)
        return true;
    return dw_key_number(key, thing) != unset_number(key);
}

void dw_object_clear(const struct dw_object *object, void *thing)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->kind == DW_KEY_OBJECT)
            dw_object_clear(key->object, member(key, thing));
        else if (key->kind == DW_KEY_LIST || key->kind == DW_KEY_READINGS || key->kind == DW_KEY_TEXT)
            memset(member(key, thing), 0, key->size);
        else
            dw_key_set_number(key, thing, unset_number(key));
        if (key->kind == DW_KEY_LIST)
            memset((char *)thing + key->count_offset, 0, sizeof(size_t));
    }
}

const struct dw_key *dw_object_key(const struct dw_object *object, const char *name)
{
    for (size_t i = 0; i < object->count; i++)
        if (strcmp(object->keys[i].key, name) == 0)
            return &object->keys[i];
    return NULL;
}

const char *dw_word_for(const struct dw_word *words, int value)
{
    for (; words->word != NULL; words++)
        if (words->value == value)
            return words->word;
    return "";
}

size_t dwi_list_count(const struct dw_key *key, const void *thing)
{
    size_t count = 0;
    memcpy(&count, (const char *)thing + key->count_offset, sizeof count);
    return count;
}

void *dwi_list_item(const struct dw_key *key, void *thing, size_t i)
{
    char *items = NULL;
    memcpy(&items, member(key, thing), sizeof items);
    return items + i * key->object->size;
}

void dwi_copy_lists(struct dw_arena *arena, const struct dw_object *object, void *thing)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->kind == DW_KEY_OBJECT)
            dwi_copy_lists(arena, key->object, member(key, thing));
        if (key->kind != DW_KEY_LIST)
            continue;
        const size_t count = dwi_list_count(key, thing);
        const void *copy = dw_arena_copy(arena, count == 0 ? NULL : dwi_list_item(key, thing, 0), count, key->object->size);
        memcpy(member(key, thing), &copy, sizeof copy);
        for (size_t k = 0; k < count; k++)
            dwi_copy_lists(arena, key->object, dwi_list_item(key, thing, k));
    }
}

void dwi_inherit(const struct dw_object *object, void *into, const void *from)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->kind == DW_KEY_OBJECT)
            dwi_inherit(key->object, member(key, into), member_of(key, from));
        else if (key->kind != DW_KEY_LIST && !dw_key_is_set(key, into))
            memcpy(member(key, into), member_of(key, from), key->size);
    }
}

static bool parse_word(const struct dw_key *key, const char *text, int64_t *number)
{
    for (const struct dw_word *word = key->words; word->word != NULL; word++)
        if (strcmp(word->word, text) == 0) {
            *number = word->value;
            return true;
        }
    return false;
}

static bool parse_count(const char *text, int64_t *number)
{
    const size_t length = strlen(text);
    if (length == 0 || length > 15 || strspn(text, "0123456789") != length)
        return false;
    *number = 0;
    for (; *text != '\0'; text++)
        *number = *number * 10 + (*text - '0');
    return true;
}

static bool parse_number(const struct dw_key *key, const char *text, enum dw_unit unit, int decimals, int64_t *number, const char **why)
{
    switch (key->kind) {
    case DW_KEY_LENGTH:
        return dw_length_parse(text, unit, number, why);
    case DW_KEY_MONEY:
        return dw_money_parse(text, decimals, number, why);
    case DW_KEY_MASS:
        return dw_mass_parse(text, number, why);
    case DW_KEY_PRESSURE:
        return dw_pressure_parse(text, number, why);
    case DW_KEY_DENSITY:
        return dw_density_parse(text, number, why);
    case DW_KEY_PERCENT:
        return dw_percent_parse(text, number, why);
    case DW_KEY_COUNT:
        *why = "expected a whole number";
        return parse_count(text, number);
    case DW_KEY_YES_NO:
        *why = "expected true or false";
        *number = strcmp(text, "true") == 0;
        return *number == 1 || strcmp(text, "false") == 0;
    case DW_KEY_WORD:
        *why = "expected one of its words";
        return parse_word(key, text, number);
    case DW_KEY_TEXT:
    case DW_KEY_READINGS:
    case DW_KEY_MATERIAL:
    case DW_KEY_SLIDE:
    case DW_KEY_BANDING:
    case DW_KEY_OBJECT:
    case DW_KEY_LIST:
        break;
    }
    *why = "expected another kind of value";
    return false;
}

bool dw_key_parse(const struct dw_key *key, void *thing, const char *text, enum dw_unit unit, int decimals, const char **why)
{
    const char *unused = NULL;
    if (key->kind == DW_KEY_TEXT) {
        memcpy(member(key, thing), &text, sizeof text);
        return true;
    }
    int64_t number = 0;
    if (!parse_number(key, text, unit, decimals, &number, why == NULL ? &unused : why))
        return false;
    dw_key_set_number(key, thing, number - key->less);
    return true;
}

void dwi_fill_defaults(const struct dw_object *object, void *thing, enum dw_unit unit)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->kind == DW_KEY_OBJECT)
            dwi_fill_defaults(key->object, member(key, thing), unit);
        const char *text = unit == DW_IN ? key->inch : key->metric;
        if (key->kind == DW_KEY_OBJECT || key->kind == DW_KEY_LIST || text == NULL || dw_key_is_set(key, thing))
            continue;
        const bool good = dw_key_parse(key, thing, text, unit, 0, NULL);
        assert(good); /* the tables are right: a test reads every default */
        (void)good;
    }
}
