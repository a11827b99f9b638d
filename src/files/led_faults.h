/* led_faults.h - the faults of one file among several, each place led by the file: "chest.json: cases[0].fit". */
#ifndef DWI_LED_FAULTS_H
#define DWI_LED_FAULTS_H

struct dw_arena;
struct dw_faults;

/* Puts the faults of `own` behind those of `all`, each place led by `path`. Needs no guard. */
void dwi_faults_append_led(struct dw_faults *all, const struct dw_faults *own, const char *path, struct dw_arena *arena);

#endif
