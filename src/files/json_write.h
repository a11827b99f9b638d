/* json_write.h - the one JSON writer: keys in the order they are written, integers whole, the same bytes every time.
 *
 * A value inside an object has a key; inside an array key is NULL. A container opened as "flat" is written on one line.
 */
#ifndef DWI_FILES_JSON_WRITE_H
#define DWI_FILES_JSON_WRITE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/text.h>

enum { DWI_JSON_DEPTH = 64 };

struct dwi_json {
    struct dw_text *out;
    int depth;
    int flat_from;                /* depth from which everything stands on one line; 0: nowhere */
    bool filled[DWI_JSON_DEPTH];  /* the container at this depth holds something already */
};

struct dwi_json dwi_json_to(struct dw_text *out);
void dwi_json_object(struct dwi_json *json, const char *key);
void dwi_json_array(struct dwi_json *json, const char *key);
void dwi_json_flat_object(struct dwi_json *json, const char *key);
void dwi_json_flat_array(struct dwi_json *json, const char *key);
void dwi_json_end_object(struct dwi_json *json);
void dwi_json_end_array(struct dwi_json *json);
void dwi_json_string(struct dwi_json *json, const char *key, const char *value);
void dwi_json_integer(struct dwi_json *json, const char *key, int64_t value);
void dwi_json_bool(struct dwi_json *json, const char *key, bool value);
void dwi_json_null(struct dwi_json *json, const char *key);

/* A value that is JSON already: a number with its own digits. */
void dwi_json_raw(struct dwi_json *json, const char *key, const char *value);

/* The newline at the end of a document. */
void dwi_json_finish(struct dwi_json *json);

#endif
