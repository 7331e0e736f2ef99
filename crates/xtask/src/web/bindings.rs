//! The JavaScript side of the WebAssembly module, made by wasm-bindgen as a library, so that no
//! program of a matching version has to be installed.

use anyhow::{Context, Result};
use flate2::{Compression, write::GzEncoder};
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::Write;
use std::path::Path;
use wasm_bindgen_cli_support::Bindgen;

/// Writes the ES module, its types and the finished WebAssembly into `package`, unless they were
/// made from this very module before. Gives whether anything was written.
///
/// # Errors
/// When the module is not one that wasm-bindgen of this version understands, or a file cannot be
/// written.
pub(crate) fn generate(wasm: &Path, package: &Path, keep_names: bool) -> Result<bool> {
    let source = identity(wasm).with_context(|| format!("reading {}", wasm.display()))?;
    let stamp = package.join(".made-from");
    if fs::read_to_string(&stamp).is_ok_and(|before| before == source) {
        return Ok(false);
    }
    if package.exists() {
        fs::remove_dir_all(package).with_context(|| format!("clearing {}", package.display()))?;
    }
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(wasm)
        .web(true)?
        .typescript(true)
        // `init()` without arguments then fetches the module from beside the script.
        .omit_default_module_path(false)
        .remove_name_section(!keep_names)
        .remove_producers_section(true);
    bindgen
        .generate(package)
        .with_context(|| format!("making bindings of {}", wasm.display()))?;
    fs::write(stamp, source)?;
    Ok(true)
}

/// Tells one build of a module from another by its path and time, without reading megabytes. It is
/// hashed because it is kept in a folder that goes to a host, where local paths are nobody's
/// business.
fn identity(wasm: &Path) -> Result<String> {
    let mut hasher = DefaultHasher::new();
    (wasm, fs::metadata(wasm)?.modified()?).hash(&mut hasher);
    Ok(format!("{:016x}", hasher.finish()))
}

/// The size of the WebAssembly as it is and as a host would send it.
///
/// # Errors
/// When the module cannot be read.
pub(crate) fn sizes(module: &Path) -> Result<String> {
    let name = module.file_name().unwrap_or_default().to_string_lossy();
    let bytes = fs::read(module)?;
    let mut gzip = GzEncoder::new(Vec::new(), Compression::best());
    gzip.write_all(&bytes)?;
    let packed = gzip.finish()?.len();
    Ok(format!(
        "{name}: {:.1} kB, gzip {:.1} kB",
        kilobytes(bytes.len()),
        kilobytes(packed)
    ))
}

#[expect(
    clippy::cast_precision_loss,
    reason = "one decimal of a size that is printed"
)]
fn kilobytes(bytes: usize) -> f64 {
    bytes as f64 / 1000.0
}
