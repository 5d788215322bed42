//! The program: arguments, files, exit codes; nothing else.

mod args;
mod cache;
mod commands;
mod engine;
mod files;
mod input;
mod judged;
mod line;
mod output;
mod trouble;

use std::process::ExitCode;

use clap::Parser as _;

use args::{Arguments, Command};
use output::Output;
use trouble::{Exit, Trouble};

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let mut output = Output::new(arguments.color);
    let result = match arguments.command {
        Command::Review(args) => commands::review::run(&args, &mut output),
        Command::Fieldwork(args) => commands::fieldwork::run(&args, &mut output),
        Command::Survey(args) => commands::survey::run(&args, &mut output),
        Command::Draw(args) => commands::draw::run(&args, &mut output),
        Command::Section(args) => commands::section::run(&args, &mut output),
        Command::Areas(args) => commands::areas::run(&args, &mut output),
        Command::Why(args) => commands::why::run(&args, &mut output),
        Command::Rules(args) => commands::rules::run(&args, &mut output),
        Command::Begin(args) => commands::begin::run(&args, &mut output),
        Command::Completions(args) => commands::shell::completions(&args),
        Command::Man => commands::shell::man(),
    };
    let exit = result.unwrap_or_else(|trouble: Trouble| {
        output.trouble(&trouble);
        trouble.exit()
    });
    ExitCode::from(exit as u8)
}

/// The exit code of several plans: the gravest of them.
pub(crate) fn gravest(exits: impl IntoIterator<Item = Exit>) -> Exit {
    exits.into_iter().max().unwrap_or(Exit::Clear)
}
