//! The reference of all keys, made from the types that parse them. Knows the look of the reference;
//! must not know any particular key.

use super::project::Project;
use super::table::{Presence, TableInfo};

const OPENING: &str = "\
# Every key of the project file

Printed by `rodbook keys` from the program itself; a test holds this copy to it.

Lengths are millimetres: whole, or with up to three decimals. Dates are written 2026-03-02, texts
stand in double quotes. A list of tables may be written `[[room.wall]]` with a line for each key, or
`wall = [{ … }, { … }]`. `rodbook explain FILE` prints a project with every default filled in.

**Where things are.** Stand in the room and face a wall: `x` runs along it from its left corner, and
walls follow one another to the right, clockwise on plan. Finished floor is the highest surveyed
floor point of the room; `base` and `top` of a unit are heights above the highest floor under its
run.

**Ids.** Rooms, runs, units, fronts, panels, sliding doors and worktops share one list of ids; a wall
is `room.wall`. An id you give survives any edit. One you don't is derived from the thing's place: a
unit is its run's id and its place from the left (`north-3`), a front its unit's id with its row from
the bottom and its place from the left (`north-3-r1c2`), so inserting a unit renames those to its
right. Give an id to whatever you will talk about.

**Front numbers** are never written: over the whole job, runs in the order of the file, within a run
from left to right, and one above another from the bottom up.

**The usual.** A room or run without a `set` uses the set called `usual`, a run without `front` the
kind of front called `usual`; a file may give its own of that name. A material that no one gives is
one of the stock boards `birch plywood 18`, `birch plywood 9` and `MDF 19`.
";

/// The whole reference as Markdown.
pub fn reference() -> String {
    let mut out = String::from(OPENING);
    let mut done = Vec::new();
    table(&Project::info(), &mut done, &mut out);
    out
}

fn table(info: &TableInfo, done: &mut Vec<&'static str>, out: &mut String) {
    if done.contains(&info.path) {
        return;
    }
    done.push(info.path);
    out.push_str(&format!("\n## {}\n\n{}\n\n", info.path, info.about));
    out.push_str("| key | takes | left out | meaning |\n|---|---|---|---|\n");
    for key in &info.keys {
        let mut takes = key.takes.clone();
        if !key.unit.is_empty() {
            takes.push_str(&format!(", {}", key.unit));
        }
        if let Some((low, high)) = key.range {
            takes.push_str(&format!(", {low} to {high}"));
        }
        let absent = match &key.presence {
            Presence::Required => "**must be given**".to_string(),
            Presence::Default(text) => match text.as_str() {
                "\"\"" | "[]" | "{  }" => "nothing".to_string(),
                text => text.to_string(),
            },
            Presence::Optional => "nothing".to_string(),
        };
        let cell = |text: &str| text.replace('|', "\\|");
        out.push_str(&format!(
            "| `{}` | {} | {} | {} |\n",
            key.name,
            cell(&takes),
            cell(&absent),
            cell(key.about)
        ));
    }
    for key in &info.keys {
        if let Some(inner) = key.inner {
            table(&inner(), done, out);
        }
    }
}
