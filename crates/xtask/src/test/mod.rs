//! `cargo xtask test`: sets everything up and runs every test.
//!
//! Every step runs even if an earlier one failed, except where it needs what an earlier one builds.
//! The page is built and packages are installed beside the steps before them.

mod beside;
pub(crate) mod browsers;
pub(crate) mod ffmpeg;
mod node;
pub(crate) mod python;
mod report;
mod rust;
pub(crate) mod slurm;
mod tally;
mod tidy;
pub(crate) mod vectors;

use crate::{layout, licences, npm};
use anyhow::{Result, bail};
use beside::Beside;
use report::{Line, Report};
use std::process::Command;
use std::time::Instant;
use tally::Tally;

/// Options of `cargo xtask test`.
#[derive(clap::Args)]
pub(crate) struct Options {
    /// Which parts to test.
    #[arg(value_enum, default_values_t = [Part::All])]
    parts: Vec<Part>,
}

#[derive(Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Part {
    /// Everything.
    All,
    /// Format, lints, tidiness, unit and integration tests, documentation.
    Rust,
    /// The WebAssembly build against the native one, in Node.
    Wasm,
    /// The command line against reference libraries, in Python.
    Reference,
    /// The page's types, and the page in real browsers.
    Browser,
}

/// What a step can count on: the results of the builds before it.
#[derive(Default)]
struct Built {
    command_line: bool,
    page: bool,
    browsers: browsers::Found,
}

/// One step of the run: its name, the parts that it belongs to, the task that is begun before the
/// first step and has to end before this one, and what it does.
struct Step {
    name: &'static str,
    parts: &'static [Part],
    after: Option<&'static str>,
    run: fn(&mut Built) -> Result<Tally>,
}

const STEPS: [Step; 15] = [
    Step {
        name: "format",
        parts: &[Part::Rust],
        after: None,
        run: |_| rust::format(),
    },
    Step {
        name: "tidy",
        parts: &[Part::Rust],
        after: None,
        run: |_| tidy::check(layout::root()),
    },
    Step {
        name: "licences",
        parts: &[Part::Rust],
        after: None,
        run: |_| licences::check().map(|()| Tally::one(true)),
    },
    Step {
        name: "lints",
        parts: &[Part::Rust],
        after: None,
        run: |_| rust::lints(),
    },
    Step {
        name: "lints for WebAssembly",
        parts: &[Part::Rust],
        after: None,
        run: |_| rust::lints_for_wasm(),
    },
    Step {
        name: "unit and integration",
        parts: &[Part::Rust],
        after: None,
        run: |_| rust::tests(),
    },
    Step {
        name: "vectors of ARM",
        parts: &[Part::Rust],
        after: None,
        run: |_| vectors::neon(),
    },
    Step {
        name: "documentation",
        parts: &[Part::Rust],
        after: None,
        run: |_| rust::documentation(),
    },
    Step {
        name: "build of the command line",
        parts: &[Part::Wasm, Part::Reference, Part::Browser],
        after: None,
        run: build_command_line,
    },
    Step {
        name: "build of the page",
        parts: &[Part::Wasm, Part::Browser],
        after: Some("web"),
        run: page_is_built,
    },
    Step {
        name: "installing",
        parts: &[Part::Browser],
        after: Some("setup"),
        run: find_browsers,
    },
    Step {
        name: "reference",
        parts: &[Part::Reference],
        after: None,
        run: reference,
    },
    Step {
        name: "parity",
        parts: &[Part::Wasm],
        after: None,
        run: parity,
    },
    Step {
        name: "types of the page",
        parts: &[Part::Browser],
        after: None,
        run: types,
    },
    Step {
        name: "browser tests",
        parts: &[Part::Browser],
        after: None,
        run: browser,
    },
];

/// Runs the steps and prints what came of them.
///
/// # Errors
/// When any step failed.
pub(crate) fn run(options: &Options) -> Result<()> {
    let everything = options.parts.contains(&Part::All);
    let wanted =
        |step: &&Step| everything || step.parts.iter().any(|it| options.parts.contains(it));
    let steps: Vec<&Step> = STEPS.iter().filter(wanted).collect();
    let mut beside: Vec<Option<Result<Beside>>> = steps
        .iter()
        .map(|step| step.after.map(Beside::start))
        .collect();
    let mut report = Report::default();
    let mut built = Built::default();
    for (step, beside) in steps.iter().zip(&mut beside) {
        println!("\n== {} ==", step.name);
        let start = Instant::now();
        let before = beside
            .take()
            .map_or(Ok(()), |task| task.and_then(Beside::finish));
        let outcome = before.and_then(|()| (step.run)(&mut built));
        if let Err(error) = &outcome {
            println!("{}: {error:#}", step.name);
        }
        report.add(Line::new(step.name, start.elapsed(), outcome));
    }
    println!("\n{report}");
    if report.failed() {
        bail!("not everything passed");
    }
    Ok(())
}

fn build_command_line(built: &mut Built) -> Result<Tally> {
    rust::command_line()?;
    built.command_line = true;
    Ok(Tally::default())
}

fn page_is_built(built: &mut Built) -> Result<Tally> {
    built.page = true;
    Ok(Tally::default())
}

fn reference(built: &mut Built) -> Result<Tally> {
    built.need_command_line()?;
    ffmpeg::need()?;
    slurm::want();
    python::checks(&layout::root().join("tests/reference"))
}

fn parity(built: &mut Built) -> Result<Tally> {
    built.need_command_line()?;
    built.need_page()?;
    let files = node::of(&layout::root().join("tests/parity"))?;
    node::tests(&files, 1, built.environment())
}

fn types(built: &mut Built) -> Result<Tally> {
    built.need_page()?;
    node::types(&layout::root().join("web"))
}

fn find_browsers(built: &mut Built) -> Result<Tally> {
    built.browsers = browsers::find()?;
    Ok(Tally::default())
}

fn browser(built: &mut Built) -> Result<Tally> {
    built.need_command_line()?;
    built.need_page()?;
    if !built.browsers.complete() {
        bail!("not run, as a browser is missing");
    }
    let folder = layout::root().join("tests/browser");
    npm::install(&folder)?;
    // In processes side by side, as most of the time one of them waits; more of them than run at a
    // time, so that none goes on alone for long.
    const AT_A_TIME: usize = 3;
    let shares = [
        "in-firefox",
        "in-chromium-1",
        "in-chromium-2",
        "in-chromium-3",
        "in-chromium-4",
    ];
    let shares = shares.map(|name| folder.join(format!("{name}.mjs")));
    node::tests(&shares, AT_A_TIME, built.environment())
}

impl Built {
    fn need_command_line(&self) -> Result<()> {
        if !self.command_line {
            bail!("not run, as the command line did not build");
        }
        Ok(())
    }

    fn need_page(&self) -> Result<()> {
        if !self.page {
            bail!("not run, as the page did not build");
        }
        Ok(())
    }

    fn environment(&self) -> impl Fn(&mut Command) + use<> {
        let browsers = self.browsers.clone();
        move |command| environment(command, &browsers)
    }
}

/// Tells a test where the things are that it tests.
pub(crate) fn environment(command: &mut Command, browsers: &browsers::Found) {
    let variables = [
        ("LOOKWRIGHT_SERVER", std::env::current_exe().ok()),
        ("LOOKWRIGHT_CHROMIUM", browsers.chromium.clone()),
        ("LOOKWRIGHT_FIREFOX", browsers.firefox.clone()),
        ("LOOKWRIGHT", Some(layout::command_line())),
        ("LOOKWRIGHT_DIST", Some(layout::dist())),
    ];
    for (name, value) in variables {
        command.envs(value.map(|path| (name, path)));
    }
}
