//! The page's modules and style sheets, put together by esbuild: what a browser fetches is a
//! handful of files, each asked for once, in place of a hundred that name one another.

use super::{Core, FIRST, Options, WHOLE, review};
use crate::{layout, npm, process};
use anyhow::{Context, Result};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Where the page's scripts begin. They share what they have in common.
const PAGE: [&str; 2] = ["js/main.js", "js/core.js"];
/// Where its style begins.
const STYLE: &str = "css/page.css";
/// Where a worker begins, by the core that it runs. It shares no file with the page, so that it waits
/// for one only.
const WORKERS: [(&str, Core); 2] = [("js/worker/first.js", FIRST), ("js/worker/whole.js", WHOLE)];
/// The bindings' name in the source, which lies where they do not.
const BINDINGS: &str = "lookwright-wasm";

/// Bundles `web/` with the bindings in `dist`; gives the folder that has the files, placed as
/// in the page.
///
/// # Errors
/// When there is no Node, esbuild cannot be installed, or a module cannot be resolved.
pub(super) fn make(dist: &Path, options: &Options) -> Result<PathBuf> {
    let web = layout::root().join("web");
    let bundle = layout::target().join("web/bundle");
    if bundle.exists() {
        fs::remove_dir_all(&bundle).with_context(|| format!("clearing {}", bundle.display()))?;
    }
    npm::install(&web)?;
    let esbuild = |entries: &[&str], more: &[&str]| {
        let mut node = Command::new("node");
        node.current_dir(&web)
            .arg("node_modules/esbuild/bin/esbuild")
            .args(entries)
            .args(["--bundle", "--format=esm", "--target=es2022"])
            .args(["--log-level=warning", "--outbase=."])
            .arg(format!("--outdir={}", bundle.display()))
            .arg(if options.dev {
                "--sourcemap=inline"
            } else {
                "--minify"
            })
            .args(more);
        process::run(&mut node)
    };
    // In the folder of the others: `page-file.js` counts on it.
    esbuild(&PAGE, &["--splitting", "--chunk-names=js/[name]-[hash]"])?;
    esbuild(&[STYLE], &[])?;
    // In one file with its pictures it can't ask for modules.
    esbuild(
        &[review::SCRIPT, review::STYLE],
        &["--format=iife", "--legal-comments=inline"],
    )?;
    review::make(&web, &bundle)?;
    for (worker, core) in WORKERS {
        let bindings = dist.join(core.script());
        let alias = format!("--alias:{BINDINGS}={}", bindings.display());
        esbuild(&[worker], &[&alias])?;
    }
    Ok(bundle)
}
