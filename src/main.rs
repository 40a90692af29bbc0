//! The program: nothing but the exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    rodbook::cli::main()
}
