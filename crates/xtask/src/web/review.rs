//! The page that a review goes out as: template, style and script in one file, with a policy that
//! lets exactly these two run and nothing be fetched.

use anyhow::{Context, Result, ensure};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::Path;

/// Where the page's script begins, and its style; the page in the tool shares the style.
pub(super) const SCRIPT: &str = "review/file.js";
pub(super) const STYLE: &str = "review/review.css";
/// The template in `web`, and what the bundle has instead of it.
const TEMPLATE: &str = "review/template.html";
const PAGE: &str = "review/page.html";

/// Puts the bundled script and style into the template.
///
/// # Errors
/// When a file cannot be read or written, or the template has no place for one of them.
pub(super) fn make(web: &Path, bundle: &Path) -> Result<()> {
    let read = |path: &Path| {
        fs::read_to_string(path).with_context(|| format!("reading {}", path.display()))
    };
    let template = read(&web.join(TEMPLATE))?;
    let script = read(&bundle.join(SCRIPT))?;
    let page = filled(&template, read(&bundle.join(STYLE))?.trim(), script.trim())?;
    let to = bundle.join(PAGE);
    fs::write(&to, page).with_context(|| format!("writing {}", to.display()))?;
    let inlined = bundle.join(SCRIPT);
    fs::remove_file(&inlined).with_context(|| format!("removing {}", inlined.display()))
}

/// The template with style, script and the policy that allows them. The places for a review's own
/// words, pictures and data stay.
fn filled(template: &str, style: &str, script: &str) -> Result<String> {
    let (style_hash, script_hash) = (source(style), source(script));
    let policy = format!(
        "default-src 'none'; script-src {script_hash}; style-src {style_hash}; \
         img-src data: blob:; base-uri 'none'; form-action 'none'"
    );
    let mut page = template.to_owned();
    for (place, text) in [("policy", &*policy), ("style", style), ("script", script)] {
        let place = format!("@@{place}@@");
        ensure!(
            page.contains(&place),
            "the review's template has no {place}"
        );
        page = page.replacen(&place, text, 1);
    }
    Ok(page)
}

/// A text as the policy names it: CSP level 3's hash source.
fn source(text: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_policy_names_the_script_and_the_style_and_allows_nothing_else() {
        let template = "<p>@@policy@@<style>@@style@@</style>@@data@@<script>@@script@@</script>";
        let page = filled(template, "p{}", "alert('Hello, world.');").unwrap();
        // The script's hash is the example of CSP level 3, section 2.3.1 ("alert('Hello, world.');").
        assert!(page.contains("script-src 'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"));
        assert!(page.contains("default-src 'none'"));
        assert!(
            page.ends_with("<style>p{}</style>@@data@@<script>alert('Hello, world.');</script>")
        );
        assert!(filled("<p>", "", "").is_err());
    }
}
