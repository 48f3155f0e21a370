//! `stepoff manual`: the manual pages.

use std::path::{Path, PathBuf};

use clap::Command;
use clap_mangen::Man;

use crate::answer::Status;

use super::files::{self, Overwrite};
use super::output::Failure;
use super::progress::Progress;

/// Writes the manual page (roff), or with -o one page for each command into a folder.
///
/// To read it at once: stepoff manual | man -l -
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The command whose page to write; without it, the program's own
    #[arg(value_name = "COMMAND", conflicts_with = "output")]
    command: Option<String>,
    /// The folder to write every page into, made if it does not exist; - writes the program's page to
    /// standard output
    #[arg(short, long, value_name = "DIR", default_value = "-")]
    output: PathBuf,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args, mut program: Command) -> Result<Status, Failure> {
    // build it, so that each command knows its full name and the common flags
    program.build();
    if files::is_stdout(&args.output) {
        let page = match &args.command {
            None => page(&program),
            Some(name) => page(command(&program, name)?),
        };
        let page = page.map_err(|error| Failure::file(&args.output, "write", &error))?;
        files::write(&args.output, &page, Overwrite::Never)?;
        return Ok(Status::Done);
    }
    let pages = pages(&program, &args.output)
        .map_err(|error| Failure::file(&args.output, "write", &error))?;
    let overwrite = Overwrite::forced(args.force);
    let names: Vec<PathBuf> = pages.iter().map(|(name, _)| name.clone()).collect();
    files::refuse_existing(&names, overwrite)?;
    files::make_folder(&args.output)?;
    let line = Progress::start("writing pages", Some(pages.len() as u64));
    for (name, page) in &pages {
        files::write_one_of_many(name, page, overwrite)?;
        line.step();
    }
    Ok(Status::Done)
}

fn command<'a>(program: &'a Command, name: &str) -> Result<&'a Command, Failure> {
    program.find_subcommand(name).ok_or_else(|| {
        let names: Vec<&str> = program
            .get_subcommands()
            .map(Command::get_name)
            .filter(|name| *name != "help")
            .collect();
        Failure::of_flag(
            "stepoff manual",
            name,
            "there is no such command",
            format!("the commands are {}", names.join(", ")),
        )
    })
}

/// One page as roff.
fn page(command: &Command) -> std::io::Result<Vec<u8>> {
    let mut text = Vec::new();
    let name = command.get_display_name().unwrap_or(command.get_name());
    let version = env!("CARGO_PKG_VERSION");
    Man::new(command.clone())
        .title(name.to_owned())
        .source(format!("stepoff {version}"))
        .render(&mut text)?;
    Ok(text)
}

/// The program's page and one for each command, with their file names.
fn pages(program: &Command, folder: &Path) -> std::io::Result<Vec<(PathBuf, Vec<u8>)>> {
    let commands = program.get_subcommands().filter(|command| command.get_name() != "help");
    std::iter::once(program)
        .chain(commands)
        .map(|command| {
            let name = command.get_display_name().unwrap_or(command.get_name());
            Ok((folder.join(format!("{name}.1")), page(command)?))
        })
        .collect()
}
