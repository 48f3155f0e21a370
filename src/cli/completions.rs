//! `stepoff completions`: what a shell needs to complete commands and flags.

use std::path::PathBuf;

use clap::Command;
use clap_complete::Shell;

use crate::answer::Status;

use super::files::{self, Overwrite};
use super::output::Failure;

/// Writes the completions of a shell. Put them where the shell looks, or have the shell read them when
/// it starts.
///
/// bash: stepoff completions bash -o ~/.local/share/bash-completion/completions/stepoff
/// zsh: stepoff completions zsh -o DIR/_stepoff, with DIR in your fpath
/// fish: stepoff completions fish -o ~/.config/fish/completions/stepoff.fish
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub(super) struct Args {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
    /// The file to write; - writes to standard output
    #[arg(short, long, value_name = "FILE", default_value = "-")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Args, mut program: Command) -> Result<Status, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut program, "stepoff", &mut text);
    files::write(&args.output, &text, Overwrite::forced(args.force))?;
    Ok(Status::Done)
}
