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

A first project needs thirty lines: copy tests/projects/alcove.toml. `rodbook keys` lists every key
there is.";

#[derive(Subcommand, Debug)]
pub enum Command {
    /// Write the client's pack, the fitter's pack and a picture of every drawing
    #[command(
        after_help = "For example:\n  rodbook pack example-project/project.toml\n  rodbook pack job.toml --out ~/jobs/017/packs\n\nNothing is written if anything in the file is wrong, and a pack is replaced whole or not at all."
    )]
    Pack {
        /// The project file
        file: PathBuf,
        /// Where to write: made if it is not there [default: out, beside the project file]
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// Freeze a project as its next revision, with both packs: nothing overwrites it
    #[command(
        after_help = "Writes issued/REVISION beside the project file: both packs, a picture of every drawing, the\nfrozen job that later revisions are compared with, and a manifest of hashes. The frozen job\nalso travels inside each PDF. The folder is whole or not there, and is never written again.\nThe key `revisions` in the job's table says whether revisions are called A, B or P01, C01."
    )]
    Issue {
        /// The project file
        file: PathBuf,
        /// What it is given out for
        #[arg(long = "for", value_enum, value_name = "PURPOSE")]
        purpose: For,
    },
    /// Say what differs between two jobs, and what came of each change
    #[command(
        after_help = "Each is an issue's folder, a pack's PDF (the frozen job travels in it), a frozen job, or a\nproject file. For example:\n  rodbook compare issued/A job.toml\n  rodbook compare old/client.pdf issued/C --format json"
    )]
    Compare {
        /// The older: a folder, a PDF or a project file
        older: PathBuf,
        /// The newer
        newer: PathBuf,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Say whether a printed sheet is of the newest revision, by the words in its square code
    #[command(
        after_help = "For example:\n  rodbook sheet job.toml RB1:CW-017:B:F7:0123456789ABCDEF\n\nExit code 0: it is of the newest revision, or of a draft as the file is now; 1: it is not."
    )]
    Sheet {
        /// The project file
        file: PathBuf,
        /// What the code says: any telephone reads it
        code: String,
    },
    /// Say everything that is wrong with a project, and what to know before the saw starts
    #[command(
        after_help = "Each thing found blocks the job, warns, or is a note; each says the number, the limit\nit is held against and where that comes from, and what to do."
    )]
    Check {
        /// The project file
        file: PathBuf,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Print a project with every default filled in, and where each value comes from
    #[command(
        after_help = "Each line ends in \"line 12\" (of your file: its own, or its kind's) or \"default\". The whole\nis itself a project file, and makes the same packs."
    )]
    Explain {
        /// The project file
        file: PathBuf,
    },
    /// Say what a spoiled front of a pattern can be cut from instead, and how that will look
    #[command(
        after_help = "For example:\n  rodbook recut job.toml 7\n  rodbook recut job.toml W2-r2c1 --format json\n\nEvery other front is taken to be cut as the pattern map says. Measure the offcut before you cut it:\nthis is reckoned from the project file, not from what stands in the rack.\nExit code 1: nothing in hand will do, and a board must be bought."
    )]
    Recut {
        /// The project file
        file: PathBuf,
        /// The spoiled front, by its number or its id
        front: String,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Print the reference of every key a project file can have
    Keys,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum For {
    /// The client is to agree to it
    Approval,
    /// The fitter is to work from it
    Fitting,
    /// As it was built
    Record,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}
