//! `lookwright check`: where a 3D table will hurt.

use std::process::ExitCode;

use anyhow::{Context, Result};
use lookwright_table::health::Severity;

use crate::args::CheckArgs;
use crate::output::one_place;
use crate::{files, settings};

pub(crate) fn run(args: &CheckArgs) -> Result<ExitCode> {
    let name = args.file.display().to_string();
    let place = match &args.picture {
        Some(path) => Some(one_place(path, &[&args.file], &args.writing)?),
        None => None,
    };
    let checked = lookwright_handover::check(
        &files::read(&args.file)?,
        &name,
        settings::judged_on(&args.delivery),
    )
    .with_context(|| name.clone())?;
    if let Some(place) = place {
        let table = args.file.file_name().unwrap_or_default();
        let picture = checked.picture(&table.to_string_lossy())?;
        place.write(picture.as_bytes())?;
    }
    if args.json {
        let report = serde_json::to_string_pretty(&checked.to_json())?;
        files::print(&format!("{report}\n"))?;
    } else {
        files::print(&format!("{name}: {}", checked.to_text()))?;
    }
    Ok(ExitCode::from(match checked.worst() {
        Severity::Info => 0,
        Severity::Minor => 3,
        Severity::Serious => 4,
    }))
}
