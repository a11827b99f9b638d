/* files.h - jobs in; plans, parts and every stage's JSON out. */
#ifndef DRAWERWRIGHT_FILES_H
#define DRAWERWRIGHT_FILES_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/progress.h>
#include <drawerwright/purchase.h>
#include <drawerwright/text.h>

struct dw_arena;

#define DW_FILE_MOST ((size_t)4 << 20)  /* bytes of a job, shop or list that is read */
#define DW_DEPTH_MOST 32                /* nested objects and arrays in it */
#define DW_PLAN_MOST ((size_t)64 << 20) /* the same for plans */
#define DW_PLAN_DEPTH_MOST 64

/* How to read a job. All-zero: as it stands. */
struct dw_read_options {
    const char *shop;            /* the shop file for a bare list of parts (.csv); NULL */
    const char *const *settings; /* "shop.habits.kerf=3/32": changes made before the job is read; a value that is no JSON is a string */
    size_t setting_count;
    bool one_of_several;         /* so the place of every fault begins with the file: "chest.json: cases[0].fit" */
};

/* Reads a job file (.json), or a bare list of parts (.csv, with options->shop), not yet completed. All faults at once. Returns DW_DONE with
 * *job in `arena`, DW_INPUT, or DW_SURROUNDINGS when the file cannot be read. options may be NULL. */
enum dw_status dw_job_read_file(const char *path, const struct dw_read_options *options, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_job **job);

/* The same from `length` bytes of JSON; `folder` is where a shop file it names is looked for (NULL: none may be read). */
enum dw_status dw_job_read_text(const char *bytes, size_t length, const char *id, const char *folder, const struct dw_read_options *options,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_job **job);

/* Changes one value of a job's JSON by its address ("cases[0].count"; NULL as the value takes it out). Objects on the way are made, an
 * array may grow by one at its end. Adds the whole text to `out` (inside a guard of its arena). For the page and for changes that are kept. */
enum dw_status dw_job_set(const char *bytes, size_t length, const char *address, const char *value, struct dw_text *out,
                          struct dw_faults *faults);

/* Reads a whole file of at most DW_FILE_MOST bytes into `arena`, ended by a NUL that does not count; NULL with a fault otherwise. */
const char *dw_file_read(const char *path, struct dw_arena *arena, struct dw_faults *faults, size_t *length);

/* The JSON Schema (draft 2020-12) of job files and their reference for people, both from the tables of keys.h; docs/job.schema.json and
 * docs/job.md are these. Added to `out` (inside a guard of its arena). */
void dw_job_schema(struct dw_text *out);
void dw_job_reference(struct dw_text *out);

/* JSON of each stage, added to `out` (inside a guard of its arena). Return DW_DONE. */
enum dw_status dw_json_job(const struct dw_job *job, struct dw_text *out);
enum dw_status dw_json_sizing(const struct dw_sizing *sizing, struct dw_text *out);
enum dw_status dw_json_parts(const struct dw_parts *parts, struct dw_text *out);
enum dw_status dw_json_layouts(const struct dw_purchase *purchase, struct dw_text *out);
enum dw_status dw_json_purchase(const struct dw_purchase *purchase, struct dw_text *out);

/* Where the work on a plan stands (docs/as-built.md), likewise. */
enum dw_status dw_json_progress(const struct dw_progress *progress, struct dw_text *out);

/* The faults as a JSON array; a text as a JSON string. Added to `out` (inside a guard of its arena). */
void dw_json_faults(const struct dw_faults *faults, struct dw_text *out);
void dw_json_quote(const char *value, struct dw_text *out);

/* The plan file, format 1 (docs/plan.md), with the warnings. */
enum dw_status dw_json_plan(const struct dw_purchase *purchase, const struct dw_faults *warnings, struct dw_text *out);

/* The parts of all jobs of a plan as CSV (RFC 4180). */
enum dw_status dw_csv_parts(const struct dw_layouts *layouts, struct dw_text *out);

/* The shopping list of a plan as CSV. Added to `out` (inside a guard of its arena). */
void dw_csv_shopping(const struct dw_purchase *purchase, struct dw_text *out);

/* Writes a file whole or not at all: aside, synced, renamed. DW_SURROUNDINGS with a fault that names the path otherwise. */
enum dw_status dw_file_write(const char *path, const char *bytes, size_t length, struct dw_faults *faults);

#endif
