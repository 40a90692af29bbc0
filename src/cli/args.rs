//! The flags, said once: help is made from these.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// One project file of a fitted-furniture job in, printable job packs out.
#[derive(Parser, Debug)]
#[command(name = "rodbook", version, max_term_width = 96, after_help = AFTER)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

const AFTER: &str = "\
Exit codes: 0 fine; 1 something found blocks the job; 2 the project file or the command line is
wrong, and nothing was written; 3 trouble with this machine.

A first project file needs little: copy example-project/project.toml and delete what you don't
need. `rodbook keys` lists every key there is.";

#[derive(Subcommand, Debug)]
pub enum Command {
    /// Write the client's pack, the fitter's pack and a picture of every drawing
    Pack {
        /// The project file
        file: PathBuf,
        /// Where to write: made if it is not there [default: out, beside the project file]
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// Say everything that is wrong with a project, and everything worth knowing before the saw
    Check {
        /// The project file
        file: PathBuf,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Print a project with every default filled in, each line saying where its value comes from
    Explain {
        /// The project file
        file: PathBuf,
    },
    /// Print the reference of every key a project file can have
    Keys,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}
