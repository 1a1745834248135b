//! The server's program: everything is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(ellwand_server::command::run(std::env::args_os()))
}
