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
Exit codes: 0 fine; 1 something found blocks the job; 2 the project file or the command line is wrong, \
and nothing was written; 3 trouble with this machine.

A first project needs thirty lines: copy tests/projects/alcove.toml. `rodbook keys` lists every key there is.";

#[derive(Subcommand, Debug)]
#[allow(clippy::large_enum_variant)] // one is made in a run
pub enum Command {
    /// Write the client's pack, the fitter's pack and a picture of every drawing
    #[command(
        after_help = "For example:\n  rodbook pack example-project/project.toml\n  rodbook pack job.toml --out ~/jobs/017/packs\n\nWrites client.pdf, fitter.pdf, drawings/ and reply.html: the page that the client opens on a telephone, offline, to read, choose, sign and save an answer (see `rodbook record reply`). Nothing is written if anything in the file is wrong, and a pack is replaced whole or not at all."
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
        after_help = "Writes issued/REVISION beside the project file: both packs, the page on which the client answers without paper, a picture of every drawing, the frozen job that later revisions are compared with, and a manifest of hashes. The frozen job also travels inside each PDF. The folder is whole or not there, and is never written again. The key `revisions` in the job's table says whether revisions are called A, B or P01, C01."
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
        after_help = "Each is an issue's folder, a pack's PDF (the frozen job travels in it), a frozen job, or a project file. For example:\n  rodbook compare issued/A job.toml\n  rodbook compare old/client.pdf issued/C --format json"
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
    /// Record what somebody signed, said or did: answers, snags, the end of the work
    Record {
        #[command(subcommand)]
        act: RecordAct,
    },
    /// Say who agreed to what, when, and on the strength of which sheet
    #[command(
        after_help = "For example:\n  rodbook agreements job.toml\n  rodbook agreements job.toml --revision B --day 2026-03-20\n\nAn agreement stands while every revision after it shows the same. The first that does not makes it lapse, and it is asked for again.\nExit code 0: all that is asked for is agreed; 1: something is open, declined or lapsed; 2: nothing is issued yet, so that nobody was asked."
    )]
    Agreements {
        /// The project file
        file: PathBuf,
        /// At which revision [default: the newest]
        #[arg(long)]
        revision: Option<String>,
        /// By what was recorded up to and with this day
        #[arg(long)]
        day: Option<String>,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Say whether every issue, every entry and every kept file is as it was written
    #[command(
        after_help = "Looks at the manifest, frozen job, packs and pictures of every issue; at every line of the record, its place, its hash and its signature; at every scan and signature kept with it.\nExit code 0: all of it holds; 1: something was changed, lost or put in, or an agreement has lapsed and was not given again.\n\nA chain of hashes shows that nothing was changed by somebody who did not change all that follows; a key that lies beside the record shows that one hand kept it. Neither shows whose hand it was. What a signature is worth is for your contract and for the law where you are."
    )]
    Verify {
        /// The project file
        file: PathBuf,
        /// How to say it
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// Write what was agreed as a PDF, with the signatures on it, for handing over
    #[command(
        after_help = "Every risk with what was chosen about it and by whom, every other agreement, contingencies, snags, the signatures as they were taken in, and the hash by which the record can be held to it."
    )]
    Handover {
        /// The project file
        file: PathBuf,
        /// The file to be written [default: out/agreed.pdf, beside the project file]
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
        /// At which revision [default: the newest]
        #[arg(long)]
        revision: Option<String>,
        /// By what was recorded up to and with this day
        #[arg(long)]
        day: Option<String>,
    },
    /// Make a key that signs entries of a record (`--key`)
    #[command(
        after_help = "Writes a new file that only you can read. Keep it elsewhere than the record: whoever has both can write the record anew. It shows that one hand kept the record, not whose hand that was."
    )]
    Key {
        /// The file to be written, which must not be there
        path: PathBuf,
    },
    /// Say everything that is wrong with a project, and what to know before the saw starts
    #[command(
        after_help = "Each thing found blocks the job, warns, or is a note; each says the number, the limit it is held against and where that comes from, and what to do."
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
        after_help = "Each line ends in \"line 12\" (of your file: its own, its kind's, its run's or its room's) or \"default\". The whole is itself a project file, and makes the same packs."
    )]
    Explain {
        /// The project file
        file: PathBuf,
    },
    /// Say what a spoiled front of a pattern can be cut from instead, and how that will look
    #[command(
        after_help = "For example:\n  rodbook recut job.toml 7\n  rodbook recut job.toml W2-r2c1 --format json\n\nEvery other front is taken to be cut as the pattern map says. Measure the offcut before you cut it: this is reckoned from the project file, not from what stands in the rack.\nExit code 1: nothing in hand will do, and a board must be bought."
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

#[derive(Subcommand, Debug)]
#[allow(clippy::large_enum_variant)] // one is made in a run
pub enum RecordAct {
    /// What somebody signed on paper, wrote or said; asked for in a short dialogue where no flag says it
    #[command(
        after_help = "For example:\n  rodbook record signed job.toml\n  rodbook record signed job.toml --all --choose bow=contingency --scan signed-B.pdf\n  rodbook record signed job.toml --agree \"elevation chamber.A\" --decline \"finish oil\"\n\n`rodbook agreements` lists what there is to agree to, by the keys that are meant here. What needs a choice is named by --choose. What is not named is left open."
    )]
    Signed {
        /// The project file
        file: PathBuf,
        /// Agreed: what, by its key
        #[arg(long, value_name = "KEY")]
        agree: Vec<String>,
        /// Agreed: all that is asked of the role and needs no choice, but what is declined
        #[arg(long)]
        all: bool,
        /// Declined: what, by its key
        #[arg(long, value_name = "KEY")]
        decline: Vec<String>,
        /// Chosen: an option of a disclosure
        #[arg(long, value_name = "DISCLOSURE=OPTION")]
        choose: Vec<String>,
        /// How it came
        #[arg(long, value_enum, default_value_t = By::Paper)]
        means: By,
        /// The initials in the boxes
        #[arg(long, default_value = "")]
        initials: String,
        #[command(flatten)]
        common: Common,
    },
    /// The file that a client's telephone saved
    #[command(
        after_help = "The file must answer an issue of this very job, and each subject as that issue shows it: anything else is refused, and said. Who answered, in which role and on which day is in the file."
    )]
    Reply {
        /// The project file
        file: PathBuf,
        /// The file that was sent back
        answer: PathBuf,
        /// A key that signs the entry
        #[arg(long, value_name = "FILE")]
        key: Option<PathBuf>,
    },
    /// That an issue was put before somebody
    Presented {
        /// The project file
        file: PathBuf,
        #[command(flatten)]
        common: Common,
    },
    /// What became of a contingency that was accepted
    Contingency {
        /// The project file
        file: PathBuf,
        /// Which, as DISCLOSURE/OPTION
        option: String,
        /// What became of it
        #[arg(value_enum)]
        becomes: Became,
        /// Why, and what is done
        #[arg(long, default_value = "")]
        words: String,
        #[command(flatten)]
        common: Common,
    },
    /// Something to be put right
    Snag {
        /// The project file
        file: PathBuf,
        /// What it is about: a unit, a front, a room
        about: String,
        /// What is wrong
        words: String,
        #[command(flatten)]
        common: Common,
    },
    /// That a snag was put right
    PutRight {
        /// The project file
        file: PathBuf,
        /// The snag's number
        number: u32,
        #[command(flatten)]
        common: Common,
    },
    /// That the work is complete
    Completed {
        /// The project file
        file: PathBuf,
        /// With what still to do
        #[arg(long, default_value = "")]
        words: String,
        #[command(flatten)]
        common: Common,
    },
}

/// Who, when, about which revision.
#[derive(clap::Args, Debug)]
pub struct Common {
    /// Who it was [default: whom the project names for the role]
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// In which role
    #[arg(long, default_value = "client")]
    pub role: String,
    /// Where
    #[arg(long, default_value = "")]
    pub place: String,
    /// On which day, as 2026-03-05 [default: today]
    #[arg(long)]
    pub day: Option<String>,
    /// About which revision [default: the newest]
    #[arg(long)]
    pub revision: Option<String>,
    /// A scan or photograph, kept with the record
    #[arg(long, value_name = "FILE")]
    pub scan: Vec<PathBuf>,
    /// A key that signs the entry
    #[arg(long, value_name = "FILE")]
    pub key: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum By {
    /// Ink on the pages of a pack
    Paper,
    /// A letter or a message
    Letter,
    /// By word of mouth
    Spoken,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Became {
    /// It came to pass, and is done and paid for
    Called,
    /// It did not come to pass
    NotNeeded,
    /// Its last day is over
    Expired,
}
