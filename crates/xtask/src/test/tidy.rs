//! House rules that no compiler checks.

use super::tally::Tally;
use anyhow::{Context, Result};
use std::fs;
use std::path::Path;
use walkdir::{DirEntry, WalkDir};

/// One file, one idea: a longer one is asked what else it holds.
const MOST_LINES: usize = 400;
/// Files that are longer for a reason: coefficients, made by `tests/reference/film/make.py`.
const LONG: [&str; 1] = ["crates/film/src/path/negative/fitted.rs"];
/// Marks of unfinished work, put together here so that this file does not hold them.
const UNFINISHED: [&str; 2] = [concat!("TO", "DO"), concat!("FIX", "ME")];
const READ: [&str; 7] = ["css", "html", "js", "mjs", "py", "rs", "toml"];
const LEFT_ALONE: [&str; 3] = ["dist", "node_modules", "target"];

/// Reads every source file below `root` and prints what breaks a rule: one check for all of them.
pub(crate) fn check(root: &Path) -> Result<Tally> {
    let (mut read, mut bad) = (0, 0);
    for entry in WalkDir::new(root)
        .sort_by_file_name()
        .into_iter()
        .filter_entry(is_ours)
    {
        let entry = entry?;
        let extension = entry
            .path()
            .extension()
            .and_then(|extension| extension.to_str());
        if !entry.file_type().is_file() || !extension.is_some_and(|it| READ.contains(&it)) {
            continue;
        }
        let name = entry
            .path()
            .strip_prefix(root)?
            .to_string_lossy()
            .replace('\\', "/");
        let text = fs::read_to_string(entry.path()).with_context(|| format!("reading {name}"))?;
        let complaints = complaints(&name, &text);
        complaints
            .iter()
            .for_each(|complaint| println!("{name}: {complaint}"));
        read += 1;
        bad += u32::from(!complaints.is_empty());
    }
    println!("{read} files read, {bad} break a rule");
    Ok(Tally::one(bad == 0))
}

fn is_ours(entry: &DirEntry) -> bool {
    let name = entry.file_name().to_string_lossy();
    entry.depth() == 0 || !(name.starts_with('.') || LEFT_ALONE.contains(&&*name))
}

fn complaints(name: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    if Path::new(name).extension().is_some_and(|it| it == "rs") && !text.starts_with("//!") {
        found.push("does not open with `//!` and what the file is for".to_owned());
    }
    let lines = text.lines().count();
    if lines > MOST_LINES && !LONG.contains(&name) {
        found.push(format!("has {lines} lines, more than {MOST_LINES}"));
    }
    for (index, line) in text.lines().enumerate() {
        let words = || line.split(|letter: char| !letter.is_alphanumeric() && letter != '_');
        if let Some(mark) = words().find(|word| UNFINISHED.contains(word)) {
            found.push(format!("line {} says {mark}: finish it", index + 1));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_are_told_with_their_place() {
        assert_eq!(complaints("a.rs", "//! Fine.\n"), Vec::<String>::new());
        assert_eq!(
            complaints("a.rs", "use x;\n"),
            ["does not open with `//!` and what the file is for"]
        );
        let mark = UNFINISHED[0];
        assert_eq!(
            complaints("a.js", &format!("let x;\n// {mark}: more\n")),
            [format!("line 2 says {mark}: finish it")]
        );
        assert_eq!(
            complaints("a.js", &format!("let {mark}S = 1;\n")),
            Vec::<String>::new()
        );
        let long = "x\n".repeat(401);
        assert_eq!(complaints("a.css", &long), ["has 401 lines, more than 400"]);
        assert_eq!(complaints("a.css", &long[2..]), Vec::<String>::new());
    }

    #[test]
    fn only_our_own_files_are_read() {
        let dir = tempfile::tempdir().unwrap();
        for file in [
            "a.rs",
            "target/b.rs",
            "web/node_modules/c.js",
            ".venv/d.py",
            "e.bin",
        ] {
            let path = dir.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "no comment at the top").unwrap();
        }
        assert_eq!(
            check(dir.path()).unwrap(),
            Tally {
                passed: 0,
                failed: 1,
                skipped: 0
            }
        );
    }
}
