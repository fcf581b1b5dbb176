//! The `cornerwise` program: arguments in, text and an exit status out. What it says is worked out in the library.

use std::process::ExitCode;

mod cli;

fn main() -> ExitCode {
    cli::main()
}
