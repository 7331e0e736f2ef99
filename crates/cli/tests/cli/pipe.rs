//! Frames through pipes: the same pixels as by files, whole streams or none.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};

use lookwright_picture::Samples;

use super::bench::{Bench, HEIGHT, WIDTH, names_in};

const RENDER: [&str; 5] = ["render", "look.json", "-", "--from", "logc3"];

fn program(bench: &Bench) -> assert_cmd::Command {
    let mut command = assert_cmd::Command::new(assert_cmd::cargo::cargo_bin!("lookwright"));
    command.current_dir(bench.path("."));
    command
}

/// Standard output of a run that must succeed.
fn piped(bench: &Bench, arguments: &[&str], input: &[u8]) -> Vec<u8> {
    let run = program(bench)
        .args(arguments)
        .write_stdin(input)
        .assert()
        .success();
    run.get_output().stdout.clone()
}

/// The bytes of the bench's frame, rendered to a file.
fn to_file(bench: &Bench, name: &str, more: &[&str]) -> Vec<u8> {
    let render = ["render", "look.json", "frame.png", "--from", "logc3"];
    bench
        .run(&[&render[..], &["-o", name], more].concat())
        .success();
    std::fs::read(bench.path(name)).unwrap()
}

/// The one line of a run that must fail.
fn refused(bench: &Bench, arguments: &[&str], input: &[u8]) -> String {
    let run = program(bench)
        .args(arguments)
        .write_stdin(input)
        .assert()
        .code(1);
    let said = String::from_utf8(run.get_output().stderr.clone()).unwrap();
    assert_eq!(said.lines().count(), 1, "{said}");
    said
}

/// The codes of 16 bits of a picture file, low byte first.
fn codes(bench: &Bench, name: &str) -> Vec<u8> {
    match bench.decode(name).samples {
        Samples::U16(codes) => codes.iter().flat_map(|code| code.to_le_bytes()).collect(),
        other => panic!("{} bits", other.bits()),
    }
}

/// A bench with three numbered frames, and their codes one after the other.
fn frames() -> (Bench, Vec<u8>) {
    let bench = Bench::new();
    for number in 7..10 {
        std::fs::copy(
            bench.path("frame.png"),
            bench.path(&format!("s.{number}.png")),
        )
        .unwrap();
    }
    let one = codes(&bench, "frame.png");
    (bench, one.repeat(3))
}

#[test]
fn raw_frames_come_out_as_by_files() {
    let (bench, stream) = frames();
    let files = [
        "render",
        "look.json",
        "s.#.png",
        "--from",
        "logc3",
        "--seed",
        "look",
    ];
    bench
        .run(&[&files[..], &["-o", "out/", "--format", "tif"]].concat())
        .success();
    let expected = ["out/s.7.tif", "out/s.8.tif", "out/s.9.tif"]
        .map(|name| codes(&bench, name))
        .concat();
    let raw = format!("{WIDTH}x{HEIGHT}:rgb16");
    let pipe = [
        "--raw",
        &raw,
        "--first-frame",
        "7",
        "-o",
        "-",
        "--format",
        "rgb16",
    ];
    for threads in ["1", "2", "5"] {
        let command = [&RENDER[..], &pipe, &["--threads", threads]].concat();
        assert!(
            piped(&bench, &command, &stream) == expected,
            "{threads} threads"
        );
    }
    // With alpha, which is dropped.
    let pixels = stream.as_chunks::<6>().0.iter();
    let rgba: Vec<u8> = pixels
        .flat_map(|rgb| [&rgb[..], &[9, 9]].concat())
        .collect();
    let raw = format!("{WIDTH}x{HEIGHT}:rgba16");
    let command = [
        &RENDER[..],
        &[
            "--raw",
            &raw,
            "--first-frame",
            "7",
            "-o",
            "-",
            "--format",
            "rgb16",
        ],
    ];
    assert!(piped(&bench, &command.concat(), &rgba) == expected);
    // From files into a pipe, and from a pipe into files.
    let command = [&files[..], &["-o", "-", "--format", "rgb16"]].concat();
    assert!(piped(&bench, &command, b"") == expected);
    let raw = format!("{WIDTH}x{HEIGHT}:rgb16");
    let command = [
        &RENDER[..],
        &["--raw", &raw, "--first-frame", "7", "-o", "g.####.tif"],
    ]
    .concat();
    piped(&bench, &command, &stream);
    assert!(codes(&bench, "g.0009.tif") == codes(&bench, "out/s.9.tif"));
}

#[test]
fn a_stream_is_read_whole_or_refused() {
    let (bench, stream) = frames();
    let raw = format!("{WIDTH}x{HEIGHT}:rgb16");
    let pipe = [
        &RENDER[..],
        &["--raw", &raw, "-o", "-", "--format", "rgb16"],
    ]
    .concat();
    let said = refused(&bench, &pipe, &stream[..stream.len() - 1]);
    assert!(said.contains("ends in the middle of frame 2"), "{said}");
    assert!(refused(&bench, &pipe, b"").contains("nothing came in"));
    let png = std::fs::read(bench.path("frame.png")).unwrap();
    let to_pipe = [&RENDER[..], &["-o", "-", "--depth", "16"]].concat();
    // One picture gives the bytes of the file route, several give several.
    assert!(piped(&bench, &to_pipe, &png) == to_file(&bench, "f.png", &["--depth", "16"]));
    for (from, ending) in [("a", "png"), ("b", "jpg"), ("c", "dpx")] {
        let name = format!("{from}.{ending}");
        let one = to_file(&bench, &name, &[]);
        let pattern = format!("{from}.##.png");
        piped(
            &bench,
            &[&RENDER[..], &["-o", &pattern, "--first-frame", "1"]].concat(),
            &one.repeat(3),
        );
        assert!(bench.path(&format!("{from}.03.png")).is_file());
        assert!(!bench.path(&format!("{from}.04.png")).exists());
    }
    let said = refused(
        &bench,
        &to_pipe,
        &[&png[..], &png[..png.len() - 9]].concat(),
    );
    assert!(said.contains("picture 2 is cut off"), "{said}");
    let said = refused(&bench, &to_pipe, &[&png[..], b"more"].concat());
    assert!(said.contains("something follows picture 1"), "{said}");
    for ending in ["exr", "tif"] {
        let name = format!("z.{ending}");
        let one = to_file(&bench, &name, &[]);
        piped(&bench, &to_pipe, &one);
        let said = refused(&bench, &to_pipe, &one.repeat(2));
        assert!(said.contains("can't be told apart"), "{said}");
    }
    let one = [&RENDER[..], &["-o", "one.png", "--first-frame", "1"]].concat();
    let said = refused(&bench, &one, &png.repeat(2));
    assert!(
        said.contains("several frames go to names with a number"),
        "{said}"
    );
}

#[test]
fn what_a_stream_can_not_have_is_refused() {
    let (bench, stream) = frames();
    let raw = format!("{WIDTH}x{HEIGHT}:rgb16");
    let unread = [
        "render",
        "look.json",
        "-",
        "--raw",
        &raw,
        "-o",
        "-",
        "--format",
        "rgb16",
    ];
    assert!(refused(&bench, &unread, &stream).contains("--from is missing"));
    let resumed = [&RENDER[..], &["--raw", &raw, "-o", "-", "--resume"]].concat();
    assert!(
        refused(&bench, &resumed, &stream).contains("--resume: a stream goes through as a whole")
    );
    let two = [
        "render",
        "look.json",
        "-",
        "frame.png",
        "--from",
        "logc3",
        "-o",
        "-",
    ];
    assert!(refused(&bench, &two, &stream).contains("read by itself"));
}

/// Whoever reads the frames goes away: one line, and no panic.
#[cfg(unix)]
#[test]
fn a_closed_pipe_is_said() {
    let (bench, stream) = frames();
    std::fs::write(bench.path("in.raw"), stream.repeat(200)).unwrap();
    let raw = format!("{WIDTH}x{HEIGHT}:rgb16");
    let mut run = Command::new(assert_cmd::cargo::cargo_bin!("lookwright"))
        .current_dir(bench.path("."))
        .args(RENDER)
        .args(["--raw", &raw, "-o", "-", "--format", "rgb16"])
        .stdin(std::fs::File::open(bench.path("in.raw")).unwrap())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut output = run.stdout.take().unwrap();
    output.read_exact(&mut [0; 100]).unwrap();
    drop(output);
    let ended = run.wait_with_output().unwrap();
    let said = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(1), "{said}");
    assert!(
        said.starts_with("lookwright: standard output: it was closed after"),
        "{said}"
    );
    assert_eq!(said.lines().count(), 1, "{said}");
}

/// The recipe of SEQUENCES.md: a clip in, a clip out, by ffmpeg on both sides.
#[cfg(unix)]
#[test]
fn a_clip_goes_through_ffmpeg_on_both_sides() {
    if !Command::new("ffmpeg")
        .arg("-version")
        .output()
        .is_ok_and(|run| run.status.success())
    {
        println!("left out: there is no ffmpeg here (Debian: apt-get install ffmpeg)");
        return;
    }
    let bench = Bench::new();
    let shell = |line: &str| {
        let program = assert_cmd::cargo::cargo_bin!("lookwright");
        let folder = Path::new(program).parent().unwrap();
        let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
        let run = Command::new("bash")
            .current_dir(bench.path("."))
            .env("PATH", path)
            .args(["-e", "-o", "pipefail", "-c", line])
            .output()
            .unwrap();
        assert!(
            run.status.success(),
            "{line}: {}",
            String::from_utf8_lossy(&run.stderr)
        );
        String::from_utf8(run.stdout).unwrap()
    };
    shell(
        "ffmpeg -v error -f lavfi -i testsrc2=size=96x64:rate=25:duration=0.4 -f lavfi \
           -i sine=duration=0.4 -c:v ffv1 -pix_fmt gbrp10le -c:a pcm_s16le clip.mkv",
    );
    shell(
        "ffmpeg -v error -i clip.mkv -f rawvideo -pix_fmt rgb48le - \
           | lookwright render look.json - --raw 96x64:rgb16 --from logc3 --first-frame 1 -o - --format rgb16 \
           | ffmpeg -v error -f rawvideo -pix_fmt rgb48le -s 96x64 -r 25 -i - -i clip.mkv -map 0:v -map 1:a \
           -c:v ffv1 -pix_fmt gbrp16le -c:a copy print.mkv",
    );
    let count = shell(
        "ffprobe -v error -count_frames -select_streams v -show_entries stream=nb_read_frames \
                       -of csv=p=0 print.mkv",
    );
    assert_eq!(count.trim(), "10");
    // The same frames as files, at both ends of the clip.
    shell(
        "mkdir in back; ffmpeg -v error -i clip.mkv -pix_fmt rgb48be in/f.%04d.png; \
           ffmpeg -v error -i print.mkv -pix_fmt rgb48be back/f.%04d.png; \
           lookwright render look.json in/f.####.png --from logc3 --seed look --depth 16 -o out/",
    );
    assert_eq!(names_in(&bench.path("back")).len(), 10);
    for name in ["f.0001.png", "f.0010.png"] {
        let (by_pipe, by_file) = (format!("back/{name}"), format!("out/{name}"));
        assert!(codes(&bench, &by_pipe) == codes(&bench, &by_file), "{name}");
    }
    // The same as Y'CbCr, whose first line names size and rate: alike, but for the rounding to 10 bits
    // on both ways.
    shell(
        "ffmpeg -v error -i clip.mkv -vf scale=out_color_matrix=bt709:out_range=tv -pix_fmt yuv444p10le \
           -strict -1 -f yuv4mpegpipe - \
           | lookwright render look.json - --from logc3 --first-frame 1 -o - --format y4m \
           | ffmpeg -v error -i - -c:v ffv1 -pix_fmt yuv444p10le y.mkv; \
           mkdir y; ffmpeg -v error -i y.mkv -vf scale=in_color_matrix=bt709:in_range=tv -pix_fmt rgb48be y/f.%04d.png",
    );
    assert_eq!(names_in(&bench.path("y")).len(), 10);
    let rate = shell("ffprobe -v error -show_entries stream=r_frame_rate -of csv=p=0 y.mkv");
    assert_eq!(rate.trim(), "25/1");
    for name in ["f.0001.png", "f.0010.png"] {
        let values = |folder: &str| {
            let picture = bench.decode(&format!("{folder}/{name}"));
            (0..picture.samples.len())
                .map(|index| picture.samples.normalised(index))
                .collect::<Vec<_>>()
        };
        let (by_y4m, by_file) = (values("y"), values("out"));
        let off = by_y4m.iter().zip(&by_file).map(|(a, b)| (a - b).abs());
        let mean = off.sum::<f32>() / by_file.len() as f32;
        assert!(mean < 0.004, "{name}: {mean}");
    }
    // The sound is untouched.
    let sound = |clip: &str| shell(&format!("ffmpeg -v error -i {clip} -map 0:a -f md5 -"));
    assert_eq!(sound("clip.mkv"), sound("print.mkv"));
}
