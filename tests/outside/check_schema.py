"""Holds samples and schema together by a library that knows nothing of us (python3-jsonschema); 77 where it is not installed.

The samples must keep to docs/job.schema.json, and spoiled copies of them must not.
"""
import copy
import glob
import json
import os
import sys
import warnings

try:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from jsonschema import Draft202012Validator
except ImportError:
    sys.exit(77)


def spoil(job):
    """Copies of a job, each with one thing wrong."""
    for change in (
        lambda j: j.update(hight=5),
        lambda j: j.update(units="cm"),
        lambda j: j.update(cases={}),
        lambda j: j.pop("shop"),
        lambda j: j["cases"][0].update(count=1.5),
        lambda j: j["cases"][0].update(banks=[{"drawers": -1}]),
        lambda j: j["cases"][0].update(banks=[{"drawers": [{"height": {"tall": 5}}]}]),
        lambda j: j["cases"][0].update(style="frame"),
        lambda j: j["cases"][0].update(fit={"overlay": True}),
        lambda j: j["cases"][0].update(free_standing="yes"),
        lambda j: j.update(parts=[{"name": "a"}]),
    ):
        spoiled = copy.deepcopy(job)
        change(spoiled)
        yield spoiled


def main(root):
    with open(os.path.join(root, "docs", "job.schema.json"), encoding="utf-8") as file:
        schema = json.load(file)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    shop_validator = Draft202012Validator({**schema, "$ref": "#/$defs/shop"})
    faults = 0
    seen = 0
    for path in sorted(glob.glob(os.path.join(root, "samples", "**", "*.json"), recursive=True)):
        with open(path, encoding="utf-8") as file:
            sample = json.load(file)
        for error in (shop_validator if "materials" in sample else validator).iter_errors(sample):
            print(f"{path}: {error.json_path}: {error.message}")
            faults += 1
        if "materials" in sample:
            continue
        seen += 1
        for number, spoiled in enumerate(spoil(sample)):
            if validator.is_valid(spoiled):
                print(f"{path}: spoiled copy {number} passes")
                faults += 1
    if seen == 0:
        print("no samples were found")
    return 1 if faults or seen == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
