/* tone.c - graphite, one brown for what is cut, one blue-gray for what is measured. */
#include "tone.h"

struct tone {
    uint32_t color;
    const char *word;
};

static const struct tone tones[] = {
    [DW_TONE_NONE] = {0, "none"},           [DW_TONE_INK] = {0x22262B, "ink"},     [DW_TONE_GRAY] = {0x70757A, "gray"},
    [DW_TONE_PALE] = {0xDDDAD2, "pale"},    [DW_TONE_PAPER] = {0xFFFFFF, "paper"}, [DW_TONE_WARM] = {0x8A4B22, "warm"},
    [DW_TONE_COOL] = {0x3A5673, "cool"},
};

uint32_t dwi_tone_color(enum dw_tone tone)
{
    return tones[tone].color;
}

const char *dwi_tone_word(enum dw_tone tone)
{
    return tones[tone].word;
}
