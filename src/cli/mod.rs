//! The command line: flags, terminal, exit codes. Knows how a person is spoken to; must not know
//! any stage's inside.

mod agreements;
mod args;
mod asking;
mod check;
mod compare;
mod explain;
mod handover;
mod issue;
mod pack;
mod record;
mod recut;
mod report;
mod sheet;
mod verify;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};

/// What became of a run; decides the exit code.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Outcome {
    /// 0
    Fine,
    /// 1: findings that block.
    Blocked,
    /// 2: the input, or the command line, is wrong.
    WrongInput,
    /// 3: the machine's trouble, or a fault of ours.
    Trouble,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> ExitCode {
        ExitCode::from(match outcome {
            Outcome::Fine => 0,
            Outcome::Blocked => 1,
            Outcome::WrongInput => 2,
            Outcome::Trouble => 3,
        })
    }
}

/// Runs the command line of this process.
pub fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(e) => {
            // Help and version are no errors; clap prints them to the right stream.
            let outcome = if e.use_stderr() {
                Outcome::WrongInput
            } else {
                Outcome::Fine
            };
            return match e.print() {
                Ok(()) => outcome.into(),
                Err(_) => Outcome::Trouble.into(),
            };
        }
    };
    match args.command {
        Command::Pack { file, out } => pack::run(&file, out.as_deref()),
        Command::Issue { file, purpose } => issue::run(&file, purpose),
        Command::Compare {
            older,
            newer,
            format,
        } => compare::run(&older, &newer, format),
        Command::Sheet { file, code } => sheet::run(&file, &code),
        Command::Record { act } => record::run(act),
        Command::Agreements {
            file,
            revision,
            day,
            format,
        } => agreements::run(&file, revision.as_deref(), day.as_deref(), format),
        Command::Verify { file, format } => verify::run(&file, format),
        Command::Handover {
            file,
            out,
            revision,
            day,
        } => handover::run(&file, out.as_deref(), revision.as_deref(), day.as_deref()),
        Command::Key { path } => record::key(&path),
        Command::Check { file, format } => check::run(&file, format),
        Command::Recut {
            file,
            front,
            format,
        } => recut::run(&file, &front, format),
        Command::Explain { file } => explain::run(&file),
        Command::Keys => explain::keys(),
    }
    .into()
}
