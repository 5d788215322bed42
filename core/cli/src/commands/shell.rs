//! `groundrule completions` and `groundrule man`: made from the command line itself.

use clap::CommandFactory as _;

use crate::args::{Arguments, Completions};
use crate::output;
use crate::trouble::{Exit, Trouble};

/// Prints a completion script.
pub(crate) fn completions(args: &Completions) -> Result<Exit, Trouble> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Arguments::command(), "groundrule", &mut script);
    output::print_raw(&script)?;
    Ok(Exit::Clear)
}

/// Prints the manual page, its sub-commands after it.
pub(crate) fn man() -> Result<Exit, Trouble> {
    let mut command = Arguments::command();
    command.build();
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    for sub in command.get_subcommands().filter(|sub| sub.get_name() != "help") {
        let name = format!("groundrule {}", sub.get_name());
        clap_mangen::Man::new(sub.clone().name(name)).render(&mut page)?;
    }
    output::print_raw(&page)?;
    Ok(Exit::Clear)
}
