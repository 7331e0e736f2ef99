//! What the server answers: a file below the page's folder or a refusal, always with the headers
//! that keep the page to itself.

use super::media;
use std::fs::{self, File};
use std::io::{Cursor, Read};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;
use tiny_http::{Header, Method, Request, Response, StatusCode};

/// The page may load nothing from anywhere else and send nothing anywhere. `wasm-unsafe-eval` lets
/// it compile WebAssembly and no more than that; blobs are the person's own pictures.
pub(crate) const POLICY: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; worker-src 'self'; \
    connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; \
    frame-ancestors 'none'";

type Body = Box<dyn Read + Send>;

/// The answer to a request for something in `dist`.
pub(crate) fn to(dist: &Path, request: &Request) -> Response<Body> {
    if !matches!(request.method(), Method::Get | Method::Head) {
        return refusal(405).with_header(header("Allow", "GET, HEAD"));
    }
    let known = request
        .headers()
        .iter()
        .find(|header| header.field.equiv("If-None-Match"))
        .map(|header| header.value.as_str());
    locate(dist, request.url())
        .and_then(|file| serve(&file, known))
        .unwrap_or_else(|| refusal(404))
}

fn serve(file: &Path, known: Option<&str>) -> Option<Response<Body>> {
    let meta = fs::metadata(file).ok()?;
    let changed = meta
        .modified()
        .ok()?
        .duration_since(UNIX_EPOCH)
        .ok()?
        .as_nanos();
    let tag = format!("\"{:x}-{changed:x}\"", meta.len());
    let (status, body, length): (u16, Body, _) = if known == Some(tag.as_str()) {
        (304, Box::new(Cursor::new(Vec::new())), Some(0))
    } else {
        (
            200,
            Box::new(File::open(file).ok()?),
            usize::try_from(meta.len()).ok(),
        )
    };
    let headers = vec![
        header("Content-Type", media::type_of(file)),
        header("ETag", &tag),
    ];
    Some(guarded(Response::new(
        StatusCode(status),
        headers,
        body,
        length,
        None,
    )))
}

fn refusal(status: u16) -> Response<Body> {
    let text = StatusCode(status).default_reason_phrase();
    let headers = vec![header("Content-Type", "text/plain; charset=utf-8")];
    let body: Body = Box::new(Cursor::new(text));
    guarded(Response::new(
        StatusCode(status),
        headers,
        body,
        Some(text.len()),
        None,
    ))
}

fn guarded(response: Response<Body>) -> Response<Body> {
    response
        .with_header(header("Content-Security-Policy", POLICY))
        .with_header(header("X-Content-Type-Options", "nosniff"))
        .with_header(header("Referrer-Policy", "no-referrer"))
        .with_header(header("Cache-Control", "no-cache"))
        // Files of several megabytes would otherwise go out in chunks, without their length.
        .with_chunked_threshold(usize::MAX)
}

fn header(name: &str, value: &str) -> Header {
    Header::from_bytes(name, value).expect("headers are plain ASCII")
}

/// The file that a request's target means, if it is one below `dist`. `dist` must be canonical.
pub(crate) fn locate(dist: &Path, target: &str) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?;
    let path = decode(path.strip_prefix('/')?)?;
    let mut file = dist.to_owned();
    for piece in path.split('/').filter(|piece| !piece.is_empty()) {
        let harmless =
            piece != "." && piece != ".." && !piece.contains(['\\', ':']) && !piece.contains('\0');
        if !harmless {
            return None;
        }
        file.push(piece);
    }
    if path.is_empty() || path.ends_with('/') {
        file.push("index.html");
    }
    // A symbolic link must not lead out either.
    let real = file.canonicalize().ok()?;
    (real.starts_with(dist) && real.is_file()).then_some(real)
}

/// Undoes percent-encoding (RFC 3986, section 2.1).
fn decode(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let digit = |byte: Option<u8>| char::from(byte?).to_digit(16);
            let (high, low) = (digit(rest.next())?, digit(rest.next())?);
            bytes.push(u8::try_from(high * 16 + low).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    fn page() -> (TempDir, PathBuf) {
        let dir = tempfile::tempdir().unwrap();
        let dist = dir.path().canonicalize().unwrap().join("dist");
        fs::create_dir_all(dist.join("js")).unwrap();
        fs::write(dir.path().join("secret.txt"), "no").unwrap();
        fs::write(dist.join("index.html"), "<!doctype html>").unwrap();
        fs::write(dist.join("js/a b.js"), "1;").unwrap();
        (dir, dist)
    }

    #[test]
    fn files_are_found_by_their_address() {
        let (_dir, dist) = page();
        assert_eq!(locate(&dist, "/"), Some(dist.join("index.html")));
        assert_eq!(
            locate(&dist, "/index.html?x=../y"),
            Some(dist.join("index.html"))
        );
        assert_eq!(locate(&dist, "/js/a%20b.js"), Some(dist.join("js/a b.js")));
        assert_eq!(
            locate(&dist, "//js//a%20b.js"),
            Some(dist.join("js/a b.js"))
        );
    }

    #[test]
    fn nothing_outside_the_page_is_found() {
        let (_dir, dist) = page();
        for target in [
            "/../secret.txt",
            "/js/../../secret.txt",
            "/%2e%2e/secret.txt",
            "/..%2fsecret.txt",
            "/%2E%2E%5csecret.txt",
            "/js/..\\..\\secret.txt",
            "//etc/passwd",
            "/C:/secret.txt",
            "/index.html%00",
            "/%",
            "/%zz",
            "/%ff",
            "secret.txt",
            "*",
            "",
            "/js",
            "/js/",
            "/missing.js",
        ] {
            assert_eq!(locate(&dist, target), None, "{target}");
        }
    }

    #[test]
    #[cfg(unix)]
    fn a_link_does_not_lead_out() {
        let (dir, dist) = page();
        std::os::unix::fs::symlink(dir.path().join("secret.txt"), dist.join("link.txt")).unwrap();
        assert_eq!(locate(&dist, "/link.txt"), None);
    }

    fn value<'a>(response: &'a Response<Body>, name: &'static str) -> Option<&'a str> {
        let found = response
            .headers()
            .iter()
            .find(|header| header.field.equiv(name))?;
        Some(found.value.as_str())
    }

    #[test]
    fn a_file_comes_with_its_type_and_the_policy_and_is_not_sent_twice() {
        let (_dir, dist) = page();
        let file = dist.join("js/a b.js");
        let first = serve(&file, None).unwrap();
        assert_eq!(first.status_code(), 200);
        assert_eq!(first.data_length(), Some(2));
        assert_eq!(value(&first, "Content-Security-Policy"), Some(POLICY));
        assert_eq!(value(&first, "X-Content-Type-Options"), Some("nosniff"));
        let tag = value(&first, "ETag").unwrap();
        assert_eq!(serve(&file, Some(tag)).unwrap().status_code(), 304);
        assert_eq!(serve(&file, Some("\"other\"")).unwrap().status_code(), 200);
    }

    #[test]
    fn the_policy_names_no_other_origin() {
        assert!(
            !POLICY.contains("http") && !POLICY.contains('*') && !POLICY.contains("unsafe-inline")
        );
        assert!(!POLICY.contains("'unsafe-eval'") && POLICY.starts_with("default-src 'self';"));
    }
}
