//! One connection: reads a request, writes the answer, closes.
//!
//! A thread for each and no keeping alive: a browser opens connections that it does not use yet,
//! and on one machine opening another costs nothing. A pool in which such a connection occupies a
//! thread lets a page hang.

use super::answer::{self, Answer};
use anyhow::{Result, bail};
use std::fs::File;
use std::io::{self, BufWriter, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::Path;
use std::time::Duration;

/// Longer than any request line and headers that a browser sends.
const MOST_BYTES: usize = 32 * 1024;
const MOST_HEADERS: usize = 100;
/// How long a browser may say nothing, and how long it may take nothing.
const PATIENCE: Duration = Duration::from_secs(120);

/// What of a request matters here.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Request {
    pub(crate) method: String,
    /// Path and query, as they came.
    pub(crate) target: String,
    /// The value of `If-None-Match`.
    pub(crate) known: Option<String>,
}

/// Answers one request for something in `dist`.
///
/// # Errors
/// When the other side goes away.
pub(crate) fn serve(mut stream: TcpStream, dist: &Path) -> Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let answer = match read(&mut stream) {
        Ok(Some(request)) => {
            let answer = answer::to(dist, &request);
            if request.method == "HEAD" {
                answer.without_body()
            } else {
                answer
            }
        }
        Ok(None) => return Ok(()),
        Err(_) => answer::refusal(400),
    };
    write(&mut stream, answer)?;
    // Closing with bytes unread would reset the connection before the answer is through.
    stream.shutdown(Shutdown::Write)?;
    io::copy(&mut stream.take(1 << 20), &mut io::sink())?;
    Ok(())
}

/// Reads up to the empty line; gives nothing if the other side closes without a word.
fn read(stream: &mut impl Read) -> Result<Option<Request>> {
    let mut bytes = Vec::new();
    let mut piece = [0; 4096];
    loop {
        let count = stream.read(&mut piece)?;
        if count == 0 {
            if bytes.is_empty() {
                return Ok(None);
            }
            bail!("the request broke off");
        }
        bytes.extend_from_slice(&piece[..count]);
        if let Some(request) = parse(&bytes)? {
            return Ok(Some(request));
        }
        if bytes.len() > MOST_BYTES {
            bail!("the request is too long");
        }
    }
}

fn parse(bytes: &[u8]) -> Result<Option<Request>> {
    let mut headers = [httparse::EMPTY_HEADER; MOST_HEADERS];
    let mut parsed = httparse::Request::new(&mut headers);
    if parsed.parse(bytes)?.is_partial() {
        return Ok(None);
    }
    let known = parsed
        .headers
        .iter()
        .find(|it| it.name.eq_ignore_ascii_case("If-None-Match"));
    Ok(Some(Request {
        method: parsed.method.unwrap_or_default().to_owned(),
        target: parsed.path.unwrap_or_default().to_owned(),
        known: known.map(|it| String::from_utf8_lossy(it.value).into_owned()),
    }))
}

fn write(stream: &mut impl Write, answer: Answer) -> Result<()> {
    let mut stream = BufWriter::new(stream);
    write!(stream, "HTTP/1.1 {} {}\r\n", answer.status, answer.reason())?;
    for (name, value) in &answer.headers {
        write!(stream, "{name}: {value}\r\n")?;
    }
    write!(stream, "Connection: close\r\n\r\n")?;
    if let Some(file) = answer.file {
        io::copy(&mut File::open(file)?, &mut stream)?;
    }
    stream.write_all(answer.text.as_bytes())?;
    Ok(stream.flush()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::{Ipv4Addr, TcpListener};
    use std::{fs, thread};

    #[test]
    fn a_request_is_read_in_pieces() {
        let text = b"GET /a?b HTTP/1.1\r\nHost: x\r\nif-none-match: \"7\"\r\n\r\n";
        let expected = Request {
            method: "GET".into(),
            target: "/a?b".into(),
            known: Some("\"7\"".into()),
        };
        for split in [1, 5, 20, text.len() - 1] {
            let mut pieces = text[..split].chain(&text[split..]);
            assert_eq!(read(&mut pieces).unwrap().as_ref(), Some(&expected));
        }
        assert_eq!(read(&mut &b""[..]).unwrap(), None);
    }

    #[test]
    fn what_is_no_request_is_refused() {
        for text in [
            "nonsense\r\n\r\n",
            "GET / HTTP/1.1\r\nbroken off",
            "GET / XYZ\r\n\r\n",
        ] {
            assert!(read(&mut text.as_bytes()).is_err(), "{text}");
        }
        let endless = format!("GET /{}", "a".repeat(2 * MOST_BYTES));
        assert!(read(&mut endless.as_bytes()).is_err());
    }

    /// What goes over the wire for a request to a folder with one small page.
    fn exchange(request: &'static str) -> String {
        let dir = tempfile::tempdir().unwrap();
        let dist = dir.path().canonicalize().unwrap();
        fs::write(dist.join("index.html"), "<!doctype html>").unwrap();
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
        let mut client = TcpStream::connect(listener.local_addr().unwrap()).unwrap();
        let (server, _) = listener.accept().unwrap();
        let serving = thread::spawn(move || serve(server, &dist).unwrap());
        client.write_all(request.as_bytes()).unwrap();
        let mut text = String::new();
        client.read_to_string(&mut text).unwrap();
        drop(client);
        serving.join().unwrap();
        text
    }

    #[test]
    fn answers_over_the_wire() {
        let page = exchange("GET / HTTP/1.1\r\n\r\n");
        assert!(page.starts_with("HTTP/1.1 200 OK\r\n"), "{page}");
        assert!(page.contains("\r\nContent-Length: 15\r\n"), "{page}");
        assert!(page.ends_with("\r\n\r\n<!doctype html>"), "{page}");
        let head = exchange("HEAD / HTTP/1.1\r\n\r\n");
        assert!(head.contains("\r\nContent-Length: 15\r\n"), "{head}");
        assert!(head.ends_with("\r\n\r\n"), "{head}");
        let outside = exchange("GET /../Cargo.toml HTTP/1.1\r\n\r\n");
        assert!(
            outside.starts_with("HTTP/1.1 404 Not Found\r\n"),
            "{outside}"
        );
        let posted = exchange("POST / HTTP/1.1\r\nContent-Length: 1\r\n\r\nx");
        assert!(
            posted.starts_with("HTTP/1.1 405 Method Not Allowed\r\n"),
            "{posted}"
        );
        assert!(posted.contains("\r\nAllow: GET, HEAD\r\n"), "{posted}");
        let garbage = exchange("garbage\r\n\r\n");
        assert!(
            garbage.starts_with("HTTP/1.1 400 Bad Request\r\n"),
            "{garbage}"
        );
    }
}
