//! The notices as text: what is used, then every licence once with the packages it stands for.

use super::Chosen;
use anyhow::{Context, Result, ensure};
use spdx::LicenseReq;
use std::fs;
use std::path::Path;
use walkdir::{DirEntry, WalkDir};

/// Folders of a package that are not compiled.
const NOT_COMPILED: [&str; 5] = ["benches", "examples", "node_modules", "test", "tests"];
/// How the names of files begin that hold a licence, a copyright or what has to be said with it.
const NAMES: [&str; 5] = ["COPYING", "COPYRIGHT", "LICENCE", "LICENSE", "NOTICE"];
/// Whoever gets work under it has to be told where its source is (MPL 2.0, 3.2).
const ASKS_FOR_SOURCE: &str = "MPL-2.0";

/// The notices of `what`.
///
/// # Errors
/// When a package's files cannot be read.
pub(super) fn write(what: &str, chosen: &[Chosen]) -> Result<String> {
    let mut text = format!(
        "Lookwright may be used under the MIT licence or the Apache licence 2.0, as you prefer.\n\
         This is the work of others in {what}, and the licences it is used under.\n\n"
    );
    let mut licences: Vec<(String, Vec<String>)> = Vec::new();
    for it in chosen {
        let name = format!("{} {}", it.package.name, it.package.version);
        let source = source(it)?;
        text.push_str(&format!("{name}: {}{source}\n", it.package.licence));
        for licence in texts(it).with_context(|| format!("reading the licence of {name}"))? {
            match licences.iter_mut().find(|(known, _)| *known == licence) {
                Some((_, names)) if names.contains(&name) => {}
                Some((_, names)) => names.push(name.clone()),
                None => licences.push((licence, vec![name.clone()])),
            }
        }
    }
    for (licence, names) in licences {
        let line = "=".repeat(80);
        text.push_str(&format!("\n{line}\n{}\n\n{licence}\n", names.join(", ")));
    }
    Ok(text)
}

/// Where a package's source is, if a licence asks that it be said.
fn source(it: &Chosen) -> Result<String> {
    let asks = |licence: &LicenseReq| licence.to_string() == ASKS_FOR_SOURCE;
    if !it.licences.iter().any(asks) {
        return Ok(String::new());
    }
    let package = &it.package;
    ensure!(
        !package.source.is_empty(),
        "{} {} does not say where its source is, which its licence {} asks for",
        package.name,
        package.version,
        package.licence
    );
    let address = package.source.trim_start_matches("git+");
    Ok(format!(
        ", used unchanged; its source code: {address}, version {}",
        package.version
    ))
}

/// What a package's licences ask to be passed on. A licence without a file of its own in the
/// package is given in SPDX's words.
fn texts(it: &Chosen) -> Result<Vec<String>> {
    let files = match &it.package.folder {
        Some(folder) => files(folder)?,
        None => Vec::new(),
    };
    let mut texts = Vec::new();
    for licence in &it.licences {
        let tag = tag(licence);
        let own: Vec<&(String, String)> = files
            .iter()
            .filter(|(name, _)| name.contains(&tag))
            .collect();
        if own.is_empty() && files.is_empty() {
            let words = licence.license.id().map_or("", |id| id.text());
            texts.push(format!(
                "Copyright {}\n\n{}",
                it.package.authors,
                words.trim()
            ));
        }
        // Files without a licence's name hold all there is to say, or a copyright.
        let copyright = |name: &str| {
            ["NOTICE", "COPYRIGHT"]
                .iter()
                .any(|it| name.starts_with(it))
        };
        let none = own.is_empty();
        let general = files.iter().filter(|(name, _)| none || copyright(name));
        texts.extend(own.into_iter().chain(general).map(|(_, text)| text.clone()));
    }
    // Code of others that a package carries along has its licence beside it.
    texts.extend(carried(it)?);
    Ok(texts)
}

fn carried(it: &Chosen) -> Result<Vec<String>> {
    let Some(folder) = &it.package.folder else {
        return Ok(Vec::new());
    };
    let mut texts = Vec::new();
    let compiled = |entry: &DirEntry| {
        let name = entry.file_name().to_string_lossy();
        entry.depth() == 0 || entry.file_type().is_file() || !NOT_COMPILED.contains(&&*name)
    };
    let walk = WalkDir::new(folder).sort_by_file_name();
    for entry in walk.into_iter().filter_entry(compiled) {
        let entry = entry?;
        let below = entry.depth() > 1 && entry.file_type().is_file();
        if below && is_licence(&entry.file_name().to_string_lossy()) {
            texts.push(read(entry.path())?);
        }
    }
    Ok(texts)
}

/// The licence files at the top of a package: their names in capitals without signs, their text.
fn files(folder: &Path) -> Result<Vec<(String, String)>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.file_type()?.is_file() && is_licence(&name) {
            files.push((plain(&name), read(&entry.path())?));
        }
    }
    files.sort();
    Ok(files)
}

fn is_licence(name: &str) -> bool {
    let name = name.to_uppercase();
    NAMES.iter().any(|start| name.starts_with(start)) && !name.ends_with(".RS")
}

fn read(path: &Path) -> Result<String> {
    let bytes = fs::read(path)?;
    Ok(String::from_utf8_lossy(&bytes)
        .replace("\r\n", "\n")
        .trim()
        .to_owned())
}

fn plain(name: &str) -> String {
    let letters = name.chars().filter(|it| it.is_ascii_alphanumeric());
    letters.collect::<String>().to_uppercase()
}

/// What the name of a licence's file says: `MIT` of `LICENSE-MIT`, `APACHE` of `LICENSE-APACHE`.
fn tag(licence: &LicenseReq) -> String {
    match licence.license.id() {
        Some(id) if id.name == "MIT-0" => "MIT0".to_owned(),
        Some(id) => id.base().to_uppercase(),
        None => licence.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Package, choose};
    use super::*;

    fn chosen(licence: &str, folder: Option<&Path>) -> Chosen {
        let package = Package {
            name: "some".to_owned(),
            version: "1.0".to_owned(),
            licence: licence.to_owned(),
            authors: "Ada Example".to_owned(),
            folder: folder.map(Path::to_owned),
            source: "git+https://example.org/some.git".to_owned(),
        };
        choose(package).unwrap()
    }

    #[test]
    fn the_chosen_licence_and_every_copyright_are_passed_on() {
        let folder = tempfile::tempdir().unwrap();
        let put = |name: &str, text: &str| {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        };
        put("LICENSE-MIT", "the MIT one\r\nin lines\r\n");
        put("LICENSE-APACHE", "the other one");
        put("NOTICE", "made by many");
        put("c_src/theirs/LICENSE", "of what it carries along");
        put("tests/LICENSE", "of a picture that is not linked");
        let found = texts(&chosen("MIT OR Apache-2.0", Some(folder.path()))).unwrap();
        assert_eq!(
            found,
            [
                "the MIT one\nin lines",
                "made by many",
                "of what it carries along"
            ]
        );
    }

    #[test]
    fn a_file_for_all_stands_for_each_and_none_means_the_words_of_spdx() {
        let folder = tempfile::tempdir().unwrap();
        let none = texts(&chosen("MIT", Some(folder.path()))).unwrap();
        assert!(
            none[0].starts_with("Copyright Ada Example\n\nMIT License"),
            "{none:?}"
        );
        fs::write(folder.path().join("license.md"), "whole").unwrap();
        assert_eq!(
            texts(&chosen("Zlib", Some(folder.path()))).unwrap(),
            ["whole"]
        );
    }

    #[test]
    fn where_the_source_is_stands_where_the_licence_asks_for_it() {
        let folder = tempfile::tempdir().unwrap();
        let mut one = chosen("MPL-2.0", Some(folder.path()));
        let text = write("the page", std::slice::from_ref(&one)).unwrap();
        let line = "some 1.0: MPL-2.0, used unchanged; its source code: https://example.org/some.git, version 1.0\n";
        assert!(text.contains(line), "{text}");
        one.package.source.clear();
        let error = write("the page", &[one]).unwrap_err().to_string();
        assert!(
            error.starts_with("some 1.0 does not say where its source is"),
            "{error}"
        );
    }

    #[test]
    fn a_licence_is_printed_once_with_all_who_use_it() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("LICENSE"), "words").unwrap();
        let [one, mut two] = [
            chosen("MIT", Some(folder.path())),
            chosen("MIT", Some(folder.path())),
        ];
        two.package.name = "other".to_owned();
        let text = write("the page", &[one, two]).unwrap();
        assert!(text.contains("some 1.0: MIT\nother 1.0: MIT\n"), "{text}");
        assert!(text.ends_with("\nsome 1.0, other 1.0\n\nwords\n"), "{text}");
    }
}
