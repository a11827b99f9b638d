/* keys.h - the words of a job file, described once.
 *
 * Each struct of job.h that a file can fill has a table here: a row a key, with where its value goes, how it is written, between
 * what limits, what holds when it is not given and why. The reader, the defaults, the checks, the schema and the reference of the
 * job file all walk these tables, so they cannot disagree.
 */
#ifndef DRAWERWRIGHT_KEYS_H
#define DRAWERWRIGHT_KEYS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/job.h>

/* How a value is written and what it is in the struct. */
enum dw_key_kind {
    DW_KEY_TEXT,     /* const char *; unset NULL */
    DW_KEY_LENGTH,   /* dw_length: "24 1/2", 24.5, "622 mm" */
    DW_KEY_MONEY,    /* dw_money: "68.00", 68 */
    DW_KEY_MASS,     /* dw_mass: "100 lb", "45 kg" */
    DW_KEY_PRESSURE, /* dw_pressure: "15 lb/ft2", "8 GPa" */
    DW_KEY_DENSITY,  /* grams per cubic meter: "680 kg/m3" */
    DW_KEY_PERCENT,  /* dw_ppm: "8.25 %", 8.25 */
    DW_KEY_COUNT,    /* whole number */
    DW_KEY_YES_NO,   /* bool or enum dw_answer: true, false */
    DW_KEY_WORD,     /* an enumeration, or a bool that has two words */
    DW_KEY_READINGS, /* struct dw_readings: one length or an array of them */
    DW_KEY_MATERIAL, /* size_t: the id of a material of the shop */
    DW_KEY_SLIDE,
    DW_KEY_BANDING,
    DW_KEY_OBJECT,   /* a struct within the struct, or more keys of the same one (offset 0) */
    DW_KEY_LIST      /* pointer and count: an array of objects */
};

struct dw_word {
    const char *word; /* NULL ends a table of words */
    int value;
};

struct dw_object;

struct dw_key {
    const char *key;
    enum dw_key_kind kind;
    size_t offset;                  /* of the member (DW_KEY_LIST: of the pointer) */
    size_t size;                    /* of the member */
    size_t count_offset;            /* DW_KEY_LIST: of the size_t count */
    const struct dw_object *object; /* DW_KEY_OBJECT, DW_KEY_LIST */
    const struct dw_word *words;    /* DW_KEY_WORD */
    int64_t least, most;            /* both 0: no limits of its own */
    int64_t less;                   /* DW_KEY_COUNT: the member holds the written number less this (places are counted from 1) */
    const char *inch, *metric;      /* default as a maker writes it in an inch and in a millimeter job; NULL: none */
    const char *rule;               /* default that depends on other values, in words; NULL */
    const char *meaning;
    const char *source;             /* of the default; "" for our own choice */
    const char *example;            /* as it stands in a file, JSON */
    bool required;
    const char *implies;            /* the DW_KEY_WORD key of the same object that takes implied_value when this one is given */
    int implied_value;
};

struct dw_object {
    const char *name;               /* "case", "slide" */
    const char *meaning;
    size_t size;                    /* of the struct */
    const struct dw_key *keys;
    size_t count;
    bool one_for_all;               /* a bare value stands for every key (trim, overlay, banding) */
    const char *bare[2];            /* keys that a bare value may stand for, tried in turn; NULL */
    const char *bare_count;         /* DW_KEY_LIST of these: a bare whole number means so many things without keys; non-NULL says what */
};

extern const struct dw_object dw_job_object, dw_shop_object, dw_habits_object, dw_prices_object, dw_material_object, dw_sheet_object,
    dw_break_object, dw_batch_object, dw_slide_object, dw_slide_length_object, dw_saw_object, dw_hardware_object, dw_banding_object, dw_supplier_object,
    dw_case_object, dw_bank_object, dw_drawer_object, dw_box_object, dw_corner_object, dw_front_object, dw_fit_object, dw_height_object,
    dw_rail_object, dw_extra_object;

/* Fills a thing of that object's struct with "not given" (yes/no and words without an inherit value: with their default). */
void dw_object_clear(const struct dw_object *object, void *thing);

/* A value that is held as a whole number (all kinds but text, readings, objects and lists), and whether it is given. */
int64_t dw_key_number(const struct dw_key *key, const void *thing);
void dw_key_set_number(const struct dw_key *key, void *thing, int64_t number);
bool dw_key_is_set(const struct dw_key *key, const void *thing);

/* Reads a default or another value written for people into the member: text for texts, else by the kind. False when it is none. */
bool dw_key_parse(const struct dw_key *key, void *thing, const char *text, enum dw_unit unit, int decimals, const char **why);

/* The key of that name, or NULL. */
const struct dw_key *dw_object_key(const struct dw_object *object, const char *name);

/* The word for a value; "" when there is none. */
const char *dw_word_for(const struct dw_word *words, int value);

/* The words of some enumerations. */
extern const struct dw_word dw_joint_words[], dw_fit_words[], dw_bottom_words[], dw_material_words[], dw_slide_words[];

/* Read an amount with its unit; decimals exact, then rounded to the nearest whole unit of the type (a pound is no whole number of
 * milligrams). Return false and point *why at a static sentence of what was expected. */
bool dw_mass_parse(const char *text, dw_mass *mass, const char **why);             /* kg, g, lb */
bool dw_pressure_parse(const char *text, dw_pressure *pressure, const char **why); /* Pa, kPa, MPa, GPa, psi, lb/ft2 */
bool dw_density_parse(const char *text, int64_t *density, const char **why);       /* kg/m3, g/cm3, lb/ft3 */
bool dw_percent_parse(const char *text, dw_ppm *ppm, const char **why);            /* %, or bare */

#endif
