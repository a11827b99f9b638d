/* textfit.h - how wide a text sets, how it is shortened, broken into lines and set with fractions. */
#ifndef DW_DRAWING_TEXTFIT_H
#define DW_DRAWING_TEXTFIT_H

#include <drawerwright/drawing.h>

enum {
    DWI_EM = 2048,           /* units of the table of advance widths */
    DWI_ASCENT = 80,         /* of the size, percent: no letter of a usual text rises higher above the baseline ... */
    DWI_DESCENT = 24,        /* ... or hangs lower beneath it */
    DWI_CAP = 73,            /* capitals and figures */
    DWI_SMALLEST = 700       /* no figure or letter is set smaller: 7 pt */
};

/* Advance width of a character in 1/2048 em. */
int dwi_advance(uint32_t point, bool bold);

/* A text as runs of one size: plain ones, and the figures and slash of each fraction. Start from {.text, .size, .bold}. */
struct dwi_runs {
    const char *text; /* what is left to read */
    dw_dot size;
    bool bold;
    dw_dot x;         /* where the next run begins */
    int part;         /* 0: before a fraction or none; 1: slash next; 2: denominator next */
};
struct dwi_run {
    const char *bytes;
    size_t length;
    dw_dot size;
    dw_dot rise;      /* of its baseline above that of the text */
    dw_dot x, width;  /* from the start of the text */
};
bool dwi_next_run(struct dwi_runs *runs, struct dwi_run *run);

dw_dot dwi_text_width(const char *text, dw_dot size, bool bold);

/* A clean UTF-8 copy in which "1/2", "15/32" ... (an inch fraction: the lower number a power of two up to 128, standing free) have U+2044 for
 * their slash and a narrow space between them and the whole number in front, and " x " between figures is a times sign. Of a text that is no clean UTF-8 every byte beyond ASCII becomes "?". */
const char *dwi_typeset(struct dw_arena *arena, const char *text);

/* The text, or as much of it as fits with an ellipsis behind; never wider than `most`. "" when not even the ellipsis fits. */
const char *dwi_shorten(struct dw_arena *arena, const char *text, dw_dot size, bool bold, dw_dot most);

/* The same of a path of names, "Bench/left/3": its first names give way, since the last ones tell what is meant: "…/left/3". */
const char *dwi_shorten_path(struct dw_arena *arena, const char *path, dw_dot size, bool bold, dw_dot most);

/* Length in bytes of the longest first line of `text` not wider than `most`, broken at a space (a word that is too long is broken inside), at
 * least one character; *next is where the next line begins. DWI_BREAK ends a line wherever it stands. */
#define DWI_BREAK "\xE2\x80\xA8" /* U+2028 */
size_t dwi_first_line(const char *text, dw_dot size, bool bold, dw_dot most, const char **next);

/* The box round a text shape: x, y to x2, y2. */
struct dwi_area {
    dw_dot x, y, x2, y2;
};
struct dwi_area dwi_text_area(const struct dw_shape *text);
bool dwi_areas_meet(struct dwi_area a, struct dwi_area b);

#endif
