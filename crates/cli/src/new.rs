//! `lookwright new`: a starting look.

use anyhow::Result;
use lookwright_film::look::{Look, json_schema};

use crate::args::NewArgs;
use crate::files;
use crate::output::one_place;

pub(crate) fn run(args: &NewArgs) -> Result<()> {
    let text = if args.schema {
        format!("{}\n", serde_json::to_string_pretty(&json_schema())?)
    } else {
        Look::starting(args.stock).pretty()
    };
    match &args.output {
        Some(path) => one_place(path, &[], &args.writing)?.write(text.as_bytes()),
        None => files::print(&text),
    }
}
