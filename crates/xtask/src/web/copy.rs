//! The static part of the page: what of `web/` and `demo-images/` goes into `web/dist`.

use anyhow::{Context, Result};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// What in `web/` serves the work on the page and not the page.
const WORKSHOP: [&str; 5] = [
    "dist",
    "node_modules",
    "tests",
    "package.json",
    "package-lock.json",
];
const PICTURES: [&str; 9] = [
    "exr", "hdr", "jpeg", "jpg", "json", "png", "tif", "tiff", "webp",
];
/// The folder of `web/dist` that the bindings are made in.
const PACKAGE: &str = "pkg";

/// Brings `dist` in line with `web/` and `demo-images/` under `root`: writes what differs, removes
/// what no longer belongs, and leaves the rest untouched, so that a browser's cache stays good.
///
/// # Errors
/// When a file cannot be read, written or removed.
pub(crate) fn page(root: &Path, dist: &Path) -> Result<()> {
    let mut wanted = BTreeSet::new();
    for (from, to) in plan(root)? {
        copy_if_different(&from, &dist.join(&to))
            .with_context(|| format!("copying {} to {}", from.display(), dist.display()))?;
        wanted.insert(to);
    }
    for entry in files_below(dist, |entry| {
        entry.depth() != 1 || entry.file_name() != PACKAGE
    })? {
        if !wanted.contains(&entry) {
            fs::remove_file(dist.join(&entry))
                .with_context(|| format!("removing {}", entry.display()))?;
        }
    }
    Ok(())
}

/// Every file to copy, with its path in `dist`.
fn plan(root: &Path) -> Result<Vec<(PathBuf, PathBuf)>> {
    let web = root.join("web");
    let page = files_below(&web, |entry| {
        let name = entry.file_name().to_string_lossy();
        let workshop = entry.depth() == 1 && WORKSHOP.contains(&&*name);
        let types = name.starts_with("tsconfig") || name.ends_with(".d.ts");
        !workshop && !types && !name.starts_with('.') && !name.ends_with(".test.mjs")
    })?;
    let demo = root.join("demo-images");
    let pictures = files_below(&demo, |entry| {
        let extension = entry
            .path()
            .extension()
            .and_then(|extension| extension.to_str());
        entry.file_type().is_dir() || extension.is_some_and(|it| PICTURES.contains(&it))
    })?;
    let page = page.into_iter().map(|file| (web.join(&file), file));
    let pictures = pictures
        .into_iter()
        .map(|file| (demo.join(&file), Path::new("demo").join(file)));
    Ok(page.chain(pictures).collect())
}

/// The files below `dir` for which, and for whose folders, `keep` holds; relative to `dir`.
fn files_below(dir: &Path, keep: impl Fn(&DirEntry) -> bool) -> Result<Vec<PathBuf>> {
    if !dir.exists() {
        return Ok(Vec::new());
    }
    let mut files = Vec::new();
    for entry in WalkDir::new(dir)
        .sort_by_file_name()
        .into_iter()
        .filter_entry(|entry| entry.depth() == 0 || keep(entry))
    {
        let entry = entry?;
        if entry.file_type().is_file() {
            files.push(entry.path().strip_prefix(dir)?.to_owned());
        }
    }
    Ok(files)
}

fn copy_if_different(from: &Path, to: &Path) -> Result<()> {
    let bytes = fs::read(from)?;
    if fs::read(to).is_ok_and(|before| before == bytes) {
        return Ok(());
    }
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder)?;
    }
    Ok(fs::write(to, bytes)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn put(root: &Path, file: &str, text: &str) {
        let path = root.join(file);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn listing(dist: &Path) -> Vec<String> {
        let files = files_below(dist, |_| true).unwrap();
        files
            .iter()
            .map(|file| file.to_string_lossy().replace('\\', "/"))
            .collect()
    }

    #[test]
    fn the_page_and_the_demo_go_to_the_host_and_the_workshop_stays() {
        let dir = tempfile::tempdir().unwrap();
        let root = dir.path();
        for file in [
            "web/index.html",
            "web/js/main.js",
            "web/js/main.test.mjs",
            "web/js/tests/of-the-page.js",
            "web/.hidden",
            "web/package.json",
            "web/tsconfig.worker.json",
            "web/js/types.d.ts",
            "web/node_modules/typescript/index.js",
            "web/tests/page.js",
            "demo-images/ferry.png",
            "demo-images/ferry/source.json",
            "demo-images/make.py",
        ] {
            put(root, file, file);
        }
        let dist = root.join("web/dist");
        put(root, "web/dist/pkg/core.wasm", "kept");
        put(root, "web/dist/old.js", "left over from an earlier build");
        page(root, &dist).unwrap();
        assert_eq!(
            listing(&dist),
            [
                "demo/ferry/source.json",
                "demo/ferry.png",
                "index.html",
                "js/main.js",
                "js/tests/of-the-page.js",
                "pkg/core.wasm",
            ]
        );
    }

    #[test]
    fn a_file_that_did_not_change_is_not_written_again() {
        let dir = tempfile::tempdir().unwrap();
        let root = dir.path();
        let dist = root.join("web/dist");
        put(root, "web/index.html", "one");
        page(root, &dist).unwrap();
        let written = || {
            fs::metadata(dist.join("index.html"))
                .unwrap()
                .modified()
                .unwrap()
        };
        let first = written();
        page(root, &dist).unwrap();
        assert_eq!(written(), first);
        put(root, "web/index.html", "two");
        page(root, &dist).unwrap();
        assert_eq!(fs::read_to_string(dist.join("index.html")).unwrap(), "two");
    }
}
