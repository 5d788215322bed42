//! `groundrule begin`: a small plan to begin from.

use crate::args::{Begin, BeginUnits};
use crate::files;
use crate::output::Output;
use crate::trouble::{Exit, Trouble};

const FEET: &str = include_str!("begin-feet.toml");
const METRES: &str = include_str!("begin-metres.toml");

/// Writes the starter plan where no file stands yet.
pub(crate) fn run(args: &Begin, output: &mut Output) -> Result<Exit, Trouble> {
    let file = &args.file;
    if file.exists() {
        return Err(Trouble::input(
            format!("{} is there already and stays as it is.", file.display()),
            "Name a file that is not there yet.",
        ));
    }
    let text = match args.units {
        BeginUnits::Ft => FEET,
        BeginUnits::M => METRES,
    };
    files::write(file, text.as_bytes())?;
    output.tell(&format!(
        "Wrote {name}. Change its figures to yours, then run:\n  groundrule review {name} --write report.html",
        name = file.display()
    ));
    Ok(Exit::Clear)
}
