//! Times every piece of work natively. One line of JSON each, on standard output.
//!
//! `figures` alone times everything, `figures NAME` one piece of work; `figures --files FOLDER`
//! writes the frame and the tables for other programs to work on.
//!
//! What runs on one thread is timed by that thread's own clock, which stands still while other
//! programs have the processor; what runs on two, by the clock on the wall.
#![allow(
    clippy::print_stdout,
    reason = "printing figures is what this program does"
)]

use std::error::Error;
use std::path::Path;
use std::time::Instant;

use cpu_time::ThreadTime;
use lookwright_bench::{
    HEIGHT, TEXTURE, WIDTH, Work, colour_table, frame, interleaved, names, work,
};
use lookwright_render::Vectors;
use lookwright_table::{Cube, Label, cube};

/// Seconds that one figure may take, and the least and most repetitions.
const SECONDS: f64 = 2.0;
const REPETITIONS: std::ops::Range<usize> = 5..60;

/// As in the command line.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [flag, folder] = arguments.as_slice()
        && flag == "--files"
    {
        return files(Path::new(folder));
    }
    let wanted = |name: &str| arguments.first().is_none_or(|only| only == name);
    for name in names().iter().filter(|name| wanted(name)) {
        let Some(mut work) = work(name, WIDTH, HEIGHT) else {
            continue;
        };
        time("native, 1 thread", name, &mut work, |work| {
            own_time(|| work.run())
        });
        if work.run_in_two() {
            time("native, 2 threads", name, &mut work, |work| {
                let begin = Instant::now();
                work.run_in_two();
                begin.elapsed().as_secs_f64()
            });
            for vectors in Vectors::all() {
                let side = format!("native, {vectors:?}");
                time(&side, name, &mut work, |work| {
                    own_time(|| work.run_on(Some(vectors)))
                });
            }
        }
    }
    for (width, height) in [(866, 577), (2000, 1000), (4000, 3000), (8000, 6000)] {
        for name in ["look, point part", "blur 80 px", "look, all texture"] {
            if wanted("by size")
                && let Some(mut work) = work(name, width, height)
            {
                time("native, by size", name, &mut work, |work| {
                    own_time(|| work.run())
                });
            }
        }
    }
    for count in 0..=TEXTURE.len() {
        let name = format!("look, texture steps: {count}");
        if wanted("by steps")
            && let Some(mut work) = work(&name, WIDTH, HEIGHT)
        {
            time("native, by steps", &name, &mut work, |work| {
                own_time(|| work.run())
            });
        }
    }
    Ok(())
}

/// Seconds that this thread spends in `work`.
fn own_time(work: impl FnOnce()) -> f64 {
    let begin = ThreadTime::now();
    work();
    begin.elapsed().as_secs_f64()
}

/// Repeats and prints. `run` gives the seconds that it took.
fn time(side: &str, name: &str, work: &mut Work, mut run: impl FnMut(&mut Work) -> f64) {
    let mut seconds = Vec::new();
    let start = Instant::now();
    while seconds.len() < REPETITIONS.start
        || (seconds.len() < REPETITIONS.end && start.elapsed().as_secs_f64() < SECONDS)
    {
        work.reset();
        seconds.push(run(work));
    }
    let pixels = work.pixels();
    println!(r#"{{"side":"{side}","name":"{name}","pixels":{pixels},"seconds":{seconds:?}}}"#);
}

/// The frame as raw RGBA floats and the tables as .cube.
fn files(folder: &Path) -> Result<(), Box<dyn Error>> {
    let rgba = interleaved(&frame(WIDTH, HEIGHT));
    let bytes: Vec<u8> = rgba.iter().flat_map(|v| v.to_le_bytes()).collect();
    std::fs::write(folder.join("frame.f32"), bytes)?;
    for size in [33, 65] {
        let grid = colour_table(size).ok_or("the table was not made")?;
        let text = cube::write(&Cube::of_grid(grid), &Label::default())?;
        std::fs::write(folder.join(format!("table{size}.cube")), text)?;
    }
    Ok(())
}
