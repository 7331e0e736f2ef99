//! The static part of the page: what of `web/` and `demo-images/` goes into `web/dist`, and the
//! bundle of its scripts and styles.

use super::{CORES, FIRST};
use anyhow::{Context, Result};
use std::collections::BTreeSet;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// What in `web/` serves the work on the page and not the page, or goes into the bundle.
const WORKSHOP: [&str; 8] = [
    "css",
    "dist",
    "js",
    "node_modules",
    "tests",
    "package.json",
    "package-lock.json",
    "review",
];
const PICTURES: [&str; 9] = [
    "exr", "hdr", "jpeg", "jpg", "json", "png", "tif", "tiff", "webp",
];
/// The folder of `web/dist` that the bindings are made in.
const PACKAGE: &str = "pkg";

/// The page itself, and the line before which it is told what it will need.
const INDEX: &str = "index.html";
const SCRIPT: &str = "  <script type=\"module\" src=\"js/main.js\"";
/// What the scripts that begin the page share has this name; what is loaded when it is asked for has
/// that of the module that it begins with.
const SHARED: &str = "js/chunk-";

/// What the page is made of, for its service worker, which keeps every release whole.
const FILES: &str = "files.json";
/// The service worker, and where it says which release it belongs to.
const SERVICE_WORKER: &str = "sw.js";
const UNBUILT: &str = "const RELEASE = \"unbuilt\";";

/// Brings `dist` in line with `web/` and `demo-images/` under `root` and with the bundle: writes
/// what differs, removes what no longer belongs, and leaves the rest untouched, so that a browser's
/// cache stays good. What is not a `release` is always fetched anew by browsers.
///
/// # Errors
/// When a file cannot be read, written or removed.
pub(crate) fn page(root: &Path, bundle: &Path, dist: &Path, release: bool) -> Result<()> {
    let mut wanted = BTreeSet::new();
    let plan = plan(root, bundle)?;
    let hints = hints(plan.iter().map(|(_, to)| to.as_path()));
    let name = if release {
        Some(release_name(&plan, dist)?)
    } else {
        None
    };
    let files = file_list(plan.iter().map(|(_, to)| to.as_path()), name.as_deref());
    write_if_different(files.as_bytes(), &dist.join(FILES))
        .with_context(|| format!("writing {FILES}"))?;
    wanted.insert(PathBuf::from(FILES));
    for (from, to) in plan {
        let copied = fs::read(&from).and_then(|mut bytes| {
            let text = String::from_utf8_lossy(&bytes);
            if to == Path::new(INDEX) {
                bytes = text.replacen(SCRIPT, &format!("{hints}{SCRIPT}"), 1).into();
            } else if let (true, Some(name)) = (to == Path::new(SERVICE_WORKER), &name) {
                let built = format!("const RELEASE = \"{name}\";");
                bytes = text.replacen(UNBUILT, &built, 1).into();
            }
            write_if_different(&bytes, &dist.join(&to))
        });
        copied.with_context(|| format!("copying {} to {}", from.display(), dist.display()))?;
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
fn plan(root: &Path, bundle: &Path) -> Result<Vec<(PathBuf, PathBuf)>> {
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
    let bundled = files_below(bundle, |_| true)?;
    let page = page.into_iter().map(|file| (web.join(&file), file));
    let bundled = bundled.into_iter().map(|file| (bundle.join(&file), file));
    let pictures = pictures
        .into_iter()
        .map(|file| (demo.join(&file), Path::new("demo").join(file)));
    Ok(page.chain(bundled).chain(pictures).collect())
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

/// Lines that let a browser fetch the page's scripts and its first core at once, and not one after
/// another as it comes upon them. What workers run they fetch themselves.
fn hints<'a>(files: impl Iterator<Item = &'a Path>) -> String {
    let modules = files.filter(|file| {
        let begins = ["js/main.js", "js/core.js"].map(Path::new).contains(file);
        begins || file.to_string_lossy().starts_with(SHARED)
    });
    let core = FIRST.module();
    let mut lines = format!(
        "  <link rel=\"preload\" as=\"fetch\" type=\"application/wasm\" href=\"{core}\" crossorigin>\n"
    );
    for module in modules {
        let path = module.to_string_lossy().replace('\\', "/");
        lines.push_str(&format!("  <link rel=\"modulepreload\" href=\"{path}\">\n"));
    }
    lines
}

/// A release's name: it tells one page from another by all that is in it.
fn release_name(plan: &[(PathBuf, PathBuf)], dist: &Path) -> Result<String> {
    let mut hasher = DefaultHasher::new();
    let cores = CORES.map(|core| (dist.join(core.module()), PathBuf::from(core.module())));
    for (from, to) in plan.iter().chain(&cores) {
        let bytes = fs::read(from).with_context(|| format!("reading {}", from.display()))?;
        (to, bytes).hash(&mut hasher);
    }
    Ok(format!("{:016x}", hasher.finish()))
}

/// Every file of the page but its first and the service worker, as JSON, with the release's name.
fn file_list<'a>(files: impl Iterator<Item = &'a Path>, release: Option<&str>) -> String {
    let paths = files
        .map(|file| file.to_string_lossy().replace('\\', "/"))
        .filter(|path| path != INDEX && path != SERVICE_WORKER);
    let quoted: Vec<String> = paths
        .chain(CORES.map(|core| core.module()))
        .map(|path| format!("\"{path}\""))
        .collect();
    let release = release.map_or("null".to_owned(), |name| format!("\"{name}\""));
    let files = quoted.join(", ");
    format!("{{\"release\": {release}, \"files\": [{files}]}}\n")
}

fn write_if_different(bytes: &[u8], to: &Path) -> std::io::Result<()> {
    if fs::read(to).is_ok_and(|before| before == bytes) {
        return Ok(());
    }
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(to, bytes)
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
            "web/css/page.css",
            "web/looks/night.json",
            "bundle/js/main.js",
            "bundle/css/page.css",
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
        page(root, &root.join("bundle"), &dist, false).unwrap();
        assert_eq!(
            listing(&dist),
            [
                "css/page.css",
                "demo/ferry/source.json",
                "demo/ferry.png",
                "files.json",
                "index.html",
                "js/main.js",
                "looks/night.json",
                "pkg/core.wasm",
            ]
        );
    }

    #[test]
    fn the_page_is_told_of_its_scripts_and_its_release() {
        let dir = tempfile::tempdir().unwrap();
        let root = dir.path();
        for file in [
            "bundle/js/main.js",
            "bundle/js/chunk-AB.js",
            "bundle/js/wall-CD.js",
            "bundle/js/worker/first.js",
            "web/dist/pkg/lookwright_wasm_bg.wasm",
            "web/dist/pkg/first/lookwright_wasm_first_bg.wasm",
        ] {
            put(root, file, file);
        }
        put(root, "web/sw.js", UNBUILT);
        let script = "  <script type=\"module\" src=\"js/main.js\"></script>\n";
        put(
            root,
            "web/index.html",
            &format!("<head>\n{script}</head>\n"),
        );
        let build = || {
            page(root, &root.join("bundle"), &root.join("web/dist"), true).unwrap();
            fs::read_to_string(root.join("web/dist/files.json")).unwrap()
        };
        let first = build();
        let index = fs::read_to_string(root.join("web/dist/index.html")).unwrap();
        let (release, files) = first.split_once(", \"files\": ").unwrap();
        let release = release.strip_prefix("{\"release\": ").unwrap();
        assert_eq!(
            files,
            "[\"js/chunk-AB.js\", \"js/main.js\", \"js/wall-CD.js\", \"js/worker/first.js\", \
             \"pkg/lookwright_wasm_bg.wasm\", \"pkg/first/lookwright_wasm_first_bg.wasm\"]}\n"
        );
        assert_eq!(
            fs::read_to_string(root.join("web/dist/sw.js")).unwrap(),
            format!("const RELEASE = {release};")
        );
        assert_eq!(build(), first);
        put(root, "bundle/js/chunk-AB.js", "of another release");
        assert_ne!(build(), first);
        let module = |path| format!("  <link rel=\"modulepreload\" href=\"{path}\">\n");
        let modules = module("js/chunk-AB.js") + &module("js/main.js");
        let core = "  <link rel=\"preload\" as=\"fetch\" type=\"application/wasm\" \
                    href=\"pkg/first/lookwright_wasm_first_bg.wasm\" crossorigin>\n";
        assert_eq!(index, format!("<head>\n{core}{modules}{script}</head>\n"));
    }

    #[test]
    fn a_file_that_did_not_change_is_not_written_again() {
        let dir = tempfile::tempdir().unwrap();
        let root = dir.path();
        let dist = root.join("web/dist");
        put(root, "web/index.html", "one");
        page(root, &root.join("bundle"), &dist, false).unwrap();
        let written = || {
            fs::metadata(dist.join("index.html"))
                .unwrap()
                .modified()
                .unwrap()
        };
        let first = written();
        page(root, &root.join("bundle"), &dist, false).unwrap();
        assert_eq!(written(), first);
        put(root, "web/index.html", "two");
        page(root, &root.join("bundle"), &dist, false).unwrap();
        assert_eq!(fs::read_to_string(dist.join("index.html")).unwrap(), "two");
    }
}
