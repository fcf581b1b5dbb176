//! The `cornerwise` program: everything is in the library, the command line in [`cornerwise::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    cornerwise::cli::main()
}
