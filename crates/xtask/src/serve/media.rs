//! Media types by file extension, as IANA registers them (text/javascript: RFC 9239).

use std::path::Path;

/// The `Content-Type` of a file.
pub(crate) fn type_of(file: &Path) -> &'static str {
    let extension = file
        .extension()
        .and_then(|extension| extension.to_str())
        .unwrap_or_default();
    match extension.to_ascii_lowercase().as_str() {
        "css" => "text/css; charset=utf-8",
        "cube" | "md" | "txt" => "text/plain; charset=utf-8",
        "exr" => "image/x-exr",
        "hdr" => "image/vnd.radiance",
        "html" => "text/html; charset=utf-8",
        "ico" => "image/vnd.microsoft.icon",
        "jpeg" | "jpg" => "image/jpeg",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "json" | "map" => "application/json",
        "mp4" => "video/mp4",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "tif" | "tiff" => "image/tiff",
        "ts" => "text/plain; charset=utf-8",
        "wasm" => "application/wasm",
        "webm" => "video/webm",
        "webmanifest" => "application/manifest+json",
        "webp" => "image/webp",
        "woff2" => "font/woff2",
        "zip" => "application/zip",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_browsers_insist_on() {
        // A module script needs a JavaScript type, streaming compilation needs application/wasm.
        for (file, expected) in [
            ("main.js", "text/javascript; charset=utf-8"),
            ("worker.mjs", "text/javascript; charset=utf-8"),
            ("core.wasm", "application/wasm"),
            ("page.CSS", "text/css; charset=utf-8"),
            ("a/b.html", "text/html; charset=utf-8"),
            ("app.webmanifest", "application/manifest+json"),
            ("ferry.JPG", "image/jpeg"),
            ("archive.tar.xyz", "application/octet-stream"),
            ("none", "application/octet-stream"),
        ] {
            assert_eq!(type_of(Path::new(file)), expected, "{file}");
        }
    }
}
