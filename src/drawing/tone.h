/* tone.h - the few tones of a drawing. They are told apart by lightness, so that a black-and-white print loses nothing. */
#ifndef DW_DRAWING_TONE_H
#define DW_DRAWING_TONE_H

#include <drawerwright/drawing.h>

/* 0xRRGGBB; of DW_TONE_NONE never asked. */
uint32_t dwi_tone_color(enum dw_tone tone);
const char *dwi_tone_word(enum dw_tone tone);

/* Dashes: so much drawn, so much left. */
enum { DWI_DASH = 400, DWI_DASH_GAP = 250 };

#define DWI_FONT "DejaVu Sans"

#endif
