//! What the server answers: a file below the page's folder or a refusal, always with the headers
//! that keep the page to itself.

use super::connection::Request;
use super::media;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

/// The page may load nothing from anywhere else and send nothing anywhere. `wasm-unsafe-eval` lets
/// it compile WebAssembly and no more than that; blobs are the person's own pictures.
pub(crate) const POLICY: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; worker-src 'self'; \
    connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; \
    frame-ancestors 'none'";

/// A status, headers, and a file or a short text.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) headers: Vec<(&'static str, String)>,
    pub(crate) file: Option<PathBuf>,
    pub(crate) text: &'static str,
}

impl Answer {
    /// The status in words, as RFC 9110 names it.
    pub(crate) fn reason(&self) -> &'static str {
        match self.status {
            200 => "OK",
            304 => "Not Modified",
            400 => "Bad Request",
            404 => "Not Found",
            405 => "Method Not Allowed",
            _ => "Other",
        }
    }

    /// The same headers and nothing after them.
    pub(crate) fn without_body(self) -> Self {
        Self {
            file: None,
            text: "",
            ..self
        }
    }

    fn guarded(mut self) -> Self {
        for (name, value) in [
            ("Content-Security-Policy", POLICY),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cache-Control", "no-cache"),
        ] {
            self.headers.push((name, value.to_owned()));
        }
        self
    }
}

/// The answer to a request for something in `dist`, which must be canonical.
pub(crate) fn to(dist: &Path, request: &Request) -> Answer {
    if !matches!(request.method.as_str(), "GET" | "HEAD") {
        return refusal(405);
    }
    locate(dist, &request.target)
        .and_then(|file| of_file(file, request.known.as_deref()))
        .unwrap_or_else(|| refusal(404))
}

fn of_file(file: PathBuf, known: Option<&str>) -> Option<Answer> {
    let meta = fs::metadata(&file).ok()?;
    let changed = meta
        .modified()
        .ok()?
        .duration_since(UNIX_EPOCH)
        .ok()?
        .as_nanos();
    let tag = format!("\"{:x}-{changed:x}\"", meta.len());
    let mut headers = vec![
        ("Content-Type", media::type_of(&file).to_owned()),
        ("ETag", tag.clone()),
    ];
    let answer = if known == Some(tag.as_str()) {
        Answer {
            status: 304,
            headers,
            file: None,
            text: "",
        }
    } else {
        headers.push(("Content-Length", meta.len().to_string()));
        Answer {
            status: 200,
            headers,
            file: Some(file),
            text: "",
        }
    };
    Some(answer.guarded())
}

/// An error in one line.
pub(crate) fn refusal(status: u16) -> Answer {
    let mut answer = Answer {
        status,
        headers: Vec::new(),
        file: None,
        text: "",
    };
    answer.text = answer.reason();
    answer.headers = vec![
        ("Content-Type", "text/plain; charset=utf-8".to_owned()),
        ("Content-Length", answer.text.len().to_string()),
    ];
    if status == 405 {
        answer.headers.push(("Allow", "GET, HEAD".to_owned()));
    }
    answer.guarded()
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

    fn value<'a>(answer: &'a Answer, name: &str) -> Option<&'a str> {
        answer
            .headers
            .iter()
            .find(|(it, _)| *it == name)
            .map(|(_, value)| value.as_str())
    }

    #[test]
    fn a_file_comes_with_its_type_and_the_policy_and_is_not_sent_twice() {
        let (_dir, dist) = page();
        let ask = |known: Option<&str>| {
            let target = "/js/a%20b.js".to_owned();
            let known = known.map(str::to_owned);
            to(
                &dist,
                &Request {
                    method: "GET".to_owned(),
                    target,
                    known,
                },
            )
        };
        let first = ask(None);
        assert_eq!(
            (first.status, first.file.as_ref()),
            (200, Some(&dist.join("js/a b.js")))
        );
        assert_eq!(value(&first, "Content-Length"), Some("2"));
        assert_eq!(
            value(&first, "Content-Type"),
            Some("text/javascript; charset=utf-8")
        );
        assert_eq!(value(&first, "Content-Security-Policy"), Some(POLICY));
        assert_eq!(value(&first, "X-Content-Type-Options"), Some("nosniff"));
        let tag = value(&first, "ETag");
        let again = ask(tag);
        assert_eq!((again.status, again.file.as_ref()), (304, None));
        assert_eq!(ask(Some("\"other\"")).status, 200);
        fs::write(dist.join("js/a b.js"), "one more").unwrap();
        assert_eq!(ask(tag).status, 200);
    }

    #[test]
    fn the_policy_names_no_other_origin() {
        assert!(
            !POLICY.contains("http") && !POLICY.contains('*') && !POLICY.contains("unsafe-inline")
        );
        assert!(!POLICY.contains("'unsafe-eval'") && POLICY.starts_with("default-src 'self';"));
    }
}
