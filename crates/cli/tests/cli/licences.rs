//! `lookwright licences`.

use assert_cmd::Command;

/// What some of the linked licences ask for in so many words.
#[test]
fn the_notices_are_in_the_program() {
    let output = Command::cargo_bin("lookwright")
        .unwrap()
        .arg("licences")
        .output()
        .unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    for asked in [
        "MIT licence",
        "Independent JPEG Group",
        "moxcms",
        "Microsoft Corporation",
    ] {
        assert!(text.contains(asked), "{asked}");
    }
}
