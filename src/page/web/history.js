// history.js - the job as it is being edited: every state it was in, so that undo and redo have no limit.
export class History {
  constructor(job) {
    this.states = [JSON.stringify(job)];
    this.at = 0;
  }
  /** A copy, to be changed freely. */
  get job() { return JSON.parse(this.states[this.at]); }
  get canUndo() { return this.at > 0; }
  get canRedo() { return this.at < this.states.length - 1; }
  /** Puts a new state behind the present one; what was undone is forgotten. False when nothing changed. */
  push(job) {
    const text = JSON.stringify(job);
    if (text === this.states[this.at]) return false;
    this.states.splice(this.at + 1);
    this.states.push(text);
    this.at++;
    return true;
  }
  undo() { if (this.canUndo) this.at--; }
  redo() { if (this.canRedo) this.at++; }
}
