//! `cargo xtask licences`: what is linked into the program and the page, and under what terms.
//!
//! Most licences ask that their text goes with the program. The texts are taken from the packages
//! themselves; a licence that is not accepted here fails with the package's name.

mod linked;
mod notice;

use crate::web::bundled_packages;
use crate::{layout, npm, toolchain};
use anyhow::{Context, Result, bail};
use linked::Package;
use spdx::{Expression, LicenseReq, Licensee, ParseMode};
use std::fs;
use std::path::PathBuf;

/// Licences that let Lookwright be given away and sold without its source, the ones that are
/// chosen first where a package offers several. MPL-2.0 covers the package's own files, and asks that
/// whoever gets them changed or compiled is told where their source is (3.2): the notices say it.
const ACCEPTED: [&str; 12] = [
    "MIT",
    "ISC",
    "0BSD",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "MIT-0",
    "Apache-2.0",
    "IJG",
    "Unicode-3.0",
    "OFL-1.1",
    "MPL-2.0",
];
/// The notices, as the page's host has them, and in the program.
pub(crate) const FILE: &str = "licences.txt";

/// A package with the licences that are chosen for it.
struct Chosen {
    package: Package,
    licences: Vec<LicenseReq>,
}

/// Checks all licences, and writes the program's notices to where it is compiled from.
///
/// # Errors
/// When a licence is not accepted, or cargo cannot tell what is linked.
pub(crate) fn run() -> Result<()> {
    let path = of_program();
    let program = program()?;
    fs::write(&path, &program).with_context(|| format!("writing {}", path.display()))?;
    println!(
        "{} ({:.1} kB)",
        path.display(),
        program.len() as f64 / 1000.0
    );
    Ok(())
}

/// Checks all licences, and that the program's notices are those of what is linked.
///
/// # Errors
/// As [`run`], and when they are not.
pub(crate) fn check() -> Result<()> {
    page()?;
    let path = of_program();
    let kept = fs::read_to_string(&path).with_context(|| format!("reading {}", path.display()))?;
    if kept != program()? {
        bail!(
            "{} are not the notices of what is linked: run `cargo xtask licences`",
            path.display()
        );
    }
    Ok(())
}

/// Where the program's notices are, which it holds.
fn of_program() -> PathBuf {
    layout::root().join("crates/cli").join(FILE)
}

/// The notices of the command line on Linux, whatever this machine's system is.
fn program() -> Result<String> {
    let packages = linked::crates("lookwright", "x86_64-unknown-linux-gnu")?;
    notices("the command line", packages)
}

/// The notices of the page.
///
/// # Errors
/// When a licence is not accepted, cargo cannot tell what is linked, or packages of npm cannot be
/// installed.
pub(crate) fn page() -> Result<String> {
    let mut packages = page_crates()?;
    npm::install(&layout::root().join("web"))?;
    packages.extend(linked::from_npm(bundled_packages()?)?);
    notices("the page", packages)
}

fn page_crates() -> Result<Vec<Package>> {
    linked::crates("lookwright-wasm", toolchain::WASM.triple)
}

fn notices(what: &str, mut packages: Vec<Package>) -> Result<String> {
    packages.extend(linked::beside_packages());
    let chosen: Result<Vec<Chosen>> = packages.into_iter().map(choose).collect();
    notice::write(what, &chosen?)
}

/// The accepted licences that a package is used under.
fn choose(package: Package) -> Result<Chosen> {
    let accepted: Result<Vec<Licensee>, _> =
        ACCEPTED.iter().map(|name| Licensee::parse(name)).collect();
    let known = Expression::parse_mode(&package.licence, ParseMode::LAX).ok();
    let licences = known.and_then(|it| it.minimized_requirements(&accepted.ok()?).ok());
    let Some(licences) = licences else {
        bail!(
            "{} {} has the licence \"{}\", which Lookwright does not accept yet: use another \
             package, or read the licence and add it to ACCEPTED in crates/xtask/src/licences/mod.rs",
            package.name,
            package.version,
            package.licence
        );
    };
    Ok(Chosen { package, licences })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(licence: &str) -> Result<Vec<String>> {
        let package = Package {
            name: "some".to_owned(),
            version: "1.0.0".to_owned(),
            licence: licence.to_owned(),
            ..Package::default()
        };
        let licences = choose(package)?.licences;
        Ok(licences.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn the_first_of_several_is_chosen_and_all_that_are_joined() {
        assert_eq!(of("Apache-2.0 OR MIT").unwrap(), ["MIT"]);
        assert_eq!(of("MIT/Apache-2.0").unwrap(), ["MIT"]);
        assert_eq!(of("(MIT OR Apache-2.0) AND IJG").unwrap(), ["MIT", "IJG"]);
        assert_eq!(of("GPL-3.0-only OR Zlib").unwrap(), ["Zlib"]);
    }

    #[test]
    fn others_are_refused_in_one_sentence() {
        for licence in ["GPL-3.0-only", "MIT AND GPL-2.0-only", "", "as you like"] {
            let error = of(licence).unwrap_err().to_string();
            let start =
                format!("some 1.0.0 has the licence \"{licence}\", which Lookwright does not");
            assert!(error.starts_with(&start), "{error}");
        }
    }

    /// The gate itself, on what is linked today; and that the texts which are asked for are there.
    #[test]
    fn what_is_linked_is_accepted_and_its_notices_are_given() {
        let program = program().unwrap();
        let page = notices("the page", page_crates().unwrap()).unwrap();
        for text in [&program, &page] {
            for asked in [
                "Independent JPEG Group",
                "SIL OPEN FONT LICENSE",
                "The Rust Project",
                "moxcms",
            ] {
                assert!(text.contains(asked), "{asked} is missing");
            }
        }
        assert!(program.contains("Microsoft Corporation"), "mimalloc's");
        assert!(!page.contains("mimalloc"));
        assert!(page.contains("wasm-bindgen"));
    }
}
