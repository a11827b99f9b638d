// all.js - the tests of the page in a real browser, one after the other: node tests/browser/all.js
"use strict";
const { after } = require("node:test");
const { closeAll } = require("./harness.js");

require("./make.js");
require("./sketch.js");
require("./keep.js");
require("./work.js");
require("./search.js");
require("./bench.js");
require("./looks.js");

after(closeAll);
