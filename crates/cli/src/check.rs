//! `lookwright check`: where a 3D table will hurt.

use std::process::ExitCode;

use anyhow::{Context, Result};
use lookwright_table::health::Severity;
use serde_json::{Value, json};

use crate::args::CheckArgs;
use crate::output::one_place;
use crate::{files, settings};

/// From which severity on a table fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum FailOn {
    /// What may show in some pictures, or will show
    Minor,
    /// Only what will show
    Serious,
    /// Nothing: a table that can be read passes
    None,
}

impl FailOn {
    /// 0 if the table passes; else its worst finding: 3 minor, 4 serious. 1 and 2 are left to files
    /// that can't be read and to wrong options, so that a gate can tell a bad table from no table.
    fn exit_code(self, worst: Severity) -> u8 {
        match (worst, self) {
            (Severity::Info, _) | (_, Self::None) | (Severity::Minor, Self::Serious) => 0,
            (Severity::Minor, Self::Minor) => 3,
            (Severity::Serious, Self::Minor | Self::Serious) => 4,
        }
    }
}

pub(crate) fn run(args: &CheckArgs) -> Result<ExitCode> {
    let name = args.file.display().to_string();
    let place = match &args.picture {
        Some(path) => Some(one_place(path, &[&args.file], &args.writing)?),
        None => None,
    };
    let bytes = files::read(&args.file)?;
    let checked = match lookwright_handover::check(&bytes, &name, settings::asked(args)) {
        Ok(checked) => checked,
        Err(error) => {
            // A machine that reads the report hears of it there, too.
            if args.json {
                print_json(&json!({ "worst": "unreadable", "error": error.message() }))?;
            }
            return Err(error).with_context(|| name.clone());
        }
    };
    if let Some(place) = place {
        let table = args.file.file_name().unwrap_or_default();
        let picture = checked.picture(&table.to_string_lossy())?;
        place.write(picture.as_bytes())?;
    }
    if args.json {
        print_json(&checked.to_json())?;
    } else {
        files::print(&format!("{name}: {}", checked.to_text()))?;
    }
    Ok(ExitCode::from(args.fail_on.exit_code(checked.worst())))
}

fn print_json(report: &Value) -> Result<()> {
    files::print(&format!("{}\n", serde_json::to_string_pretty(report)?))
}
