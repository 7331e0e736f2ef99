//! What is linked: crates as cargo resolves them, packages of npm, and what comes with neither.

use crate::{layout, process};
use anyhow::{Context, Result};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Somebody else's work in the program or the page.
#[derive(Clone, Debug, Default)]
pub(super) struct Package {
    pub(super) name: String,
    pub(super) version: String,
    /// An SPDX expression.
    pub(super) licence: String,
    /// Who wrote it, if the package says so.
    pub(super) authors: String,
    /// Where its licence files are.
    pub(super) folder: Option<PathBuf>,
    /// Where its source is, as the package says.
    pub(super) source: String,
}

/// Every crate that is linked into the workspace's package `root` for a target. Procedural macros
/// and build scripts are run by the compiler and not linked.
///
/// # Errors
/// When cargo fails or says something unforeseen.
pub(super) fn crates(root: &str, target: &str) -> Result<Vec<Package>> {
    let mut cargo = Command::new("cargo");
    cargo.current_dir(layout::root()).args([
        "metadata",
        "--format-version=1",
        "--filter-platform",
        target,
    ]);
    let metadata: Value = serde_json::from_str(&process::output_of(&mut cargo)?)?;
    in_metadata(&metadata, root).with_context(|| format!("cargo metadata names no {root}"))
}

fn in_metadata(metadata: &Value, root: &str) -> Option<Vec<Package>> {
    let by_id = |list: &Value| -> Option<BTreeMap<String, Value>> {
        let pairs = list.as_array()?.iter();
        Some(
            pairs
                .map(|it| (words(&it["id"]), it.clone()))
                .collect::<BTreeMap<_, _>>(),
        )
    };
    let packages = by_id(&metadata["packages"])?;
    let nodes = by_id(&metadata["resolve"]["nodes"])?;
    let (first, _) = packages.iter().find(|(_, it)| it["name"] == root)?;
    let (mut seen, mut ahead) = (BTreeSet::new(), vec![first.clone()]);
    while let Some(id) = ahead.pop() {
        if is_macro(&packages[&id]) || !seen.insert(id.clone()) {
            continue;
        }
        for dependency in nodes[&id]["deps"].as_array()? {
            let kinds = dependency["dep_kinds"].as_array()?;
            if kinds.iter().any(|it| it["kind"].is_null()) {
                ahead.push(words(&dependency["pkg"]));
            }
        }
    }
    let others = seen.iter().map(|id| &packages[id]);
    let mut others: Vec<Package> = others
        .filter(|it| !it["source"].is_null())
        .map(package)
        .collect();
    others.sort_by(|a, b| (&a.name, &a.version).cmp(&(&b.name, &b.version)));
    Some(others)
}

fn is_macro(package: &Value) -> bool {
    let targets = package["targets"].as_array().into_iter().flatten();
    targets
        .flat_map(|it| it["kind"].as_array().into_iter().flatten())
        .any(|kind| kind == "proc-macro")
}

fn package(it: &Value) -> Package {
    let authors = it["authors"].as_array().into_iter().flatten().map(words);
    let manifest = PathBuf::from(words(&it["manifest_path"]));
    Package {
        name: words(&it["name"]),
        version: words(&it["version"]),
        licence: words(&it["license"]),
        authors: authors.collect::<Vec<_>>().join(", "),
        folder: manifest.parent().map(Path::to_owned),
        source: words(&it["repository"]),
    }
}

fn words(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// The packages of npm that the page's scripts are bundled with, and what these need in turn. Those
/// that hold types only leave nothing in a script.
///
/// # Errors
/// When one is not installed.
pub(super) fn from_npm(names: Vec<String>) -> Result<Vec<Package>> {
    let modules = layout::root().join("web/node_modules");
    let (mut seen, mut ahead) = (BTreeMap::new(), names);
    while let Some(name) = ahead.pop() {
        if name.starts_with("@types/") || seen.contains_key(&name) {
            continue;
        }
        let folder = modules.join(&name);
        let manifest = folder.join("package.json");
        let text = fs::read_to_string(&manifest)
            .with_context(|| format!("reading {}", manifest.display()))?;
        let it: Value = serde_json::from_str(&text)?;
        let needed = it["dependencies"].as_object();
        ahead.extend(needed.into_iter().flat_map(|them| them.keys().cloned()));
        seen.insert(
            name,
            Package {
                name: words(&it["name"]),
                version: words(&it["version"]),
                licence: words(&it["license"]),
                authors: words(&it["author"]),
                folder: Some(folder),
                source: words(it["repository"].get("url").unwrap_or(&it["repository"])),
            },
        );
    }
    Ok(seen.into_values().collect())
}

/// What no package stands for: Rust's own library, and the font whose letters
/// `noto-sans-mono-bitmap` holds as pictures.
pub(super) fn beside_packages() -> [Package; 2] {
    let bundled = |name: &str, version: &str, licence: &str, authors: &str| Package {
        name: name.to_owned(),
        version: version.to_owned(),
        licence: licence.to_owned(),
        authors: authors.to_owned(),
        folder: None,
        source: String::new(),
    };
    [
        bundled(
            "Rust's standard library",
            env!("CARGO_PKG_RUST_VERSION"),
            "MIT OR Apache-2.0",
            "The Rust Project Contributors",
        ),
        bundled(
            "Noto Sans Mono (pictures of its letters)",
            "2",
            "OFL-1.1",
            "The Noto Project Authors (https://github.com/notofonts/latin-greek-cyrillic)",
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_linked_is_followed_and_what_only_the_compiler_runs_is_not() {
        let package = |name: &str, kind: &str, source: Value| {
            json!({"id": name, "name": name, "version": "1.0.0", "license": "MIT", "source": source,
                "authors": [], "manifest_path": format!("/{name}/Cargo.toml"),
                "targets": [{"kind": [kind]}]})
        };
        let dependency =
            |name: &str, kind: Value| json!({"pkg": name, "dep_kinds": [{"kind": kind}]});
        let metadata = json!({
            "packages": [
                package("ours", "bin", Value::Null),
                package("linked", "lib", json!("registry")),
                package("below", "lib", json!("registry")),
                package("tested", "lib", json!("registry")),
                package("built", "lib", json!("registry")),
                package("derive", "proc-macro", json!("registry")),
                package("syntax", "lib", json!("registry")),
            ],
            "resolve": {"nodes": [
                {"id": "ours", "deps": [
                    dependency("linked", Value::Null), dependency("tested", json!("dev")),
                    dependency("built", json!("build")), dependency("derive", Value::Null)]},
                {"id": "linked", "deps": [dependency("below", Value::Null)]},
                {"id": "derive", "deps": [dependency("syntax", Value::Null)]},
                {"id": "below", "deps": []},
            ]},
        });
        let found = in_metadata(&metadata, "ours").unwrap();
        let names: Vec<&str> = found.iter().map(|it| it.name.as_str()).collect();
        assert_eq!(names, ["below", "linked"]);
        assert_eq!(found[0].folder, Some(PathBuf::from("/below")));
        assert!(in_metadata(&metadata, "theirs").is_none());
    }
}
