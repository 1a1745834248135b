//! The command `ellwand`: reads the environment once and runs the command line.

use ellwand::{Environment, run};
use std::{io, process::ExitCode};

fn main() -> ExitCode {
    let environment = Environment::read();
    let code = run(
        std::env::args_os(),
        &environment,
        &mut io::stdout(),
        &mut io::stderr(),
    );
    ExitCode::from(code)
}
