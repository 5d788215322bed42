//! Results to standard output, everything else to standard error.

use std::io::{IsTerminal as _, Write as _};

use anstream::{AutoStream, ColorChoice};

use crate::args::Colour;
use crate::trouble::Trouble;

/// Lines are never wider than this, however wide the terminal.
const WIDEST: usize = 110;
/// The width when the output is no terminal.
const PLAIN: usize = 80;
/// The narrowest width that is laid out; narrower terminals wrap by themselves.
const NARROWEST: usize = 40;

/// Where the program prints.
pub(crate) struct Output {
    choice: ColorChoice,
}

impl Output {
    pub(crate) fn new(colour: Colour) -> Self {
        let choice = match colour {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        Self { choice }
    }

    /// Prints a result. Styles in the text are kept or taken out as the stream and the user ask.
    pub(crate) fn print(&mut self, text: &str) -> Result<(), Trouble> {
        let mut stream = AutoStream::new(std::io::stdout().lock(), self.choice);
        stream.write_all(text.as_bytes())?;
        stream.flush()?;
        Ok(())
    }

    /// Says something about the work on standard error.
    pub(crate) fn tell(&mut self, text: &str) {
        let mut stream = AutoStream::new(std::io::stderr().lock(), self.choice);
        // Nobody is left to tell when standard error is gone.
        let _ = writeln!(stream, "{text}");
    }

    /// Says why the command stopped.
    pub(crate) fn trouble(&mut self, trouble: &Trouble) {
        match trouble {
            Trouble::BrokenPipe => {}
            Trouble::Input { what, help } => self.tell(&format!("error: {what}\n  help: {help}")),
            Trouble::Output(error) => self.tell(&format!("error: the result could not be written: {error}.")),
            Trouble::Module(blame) => {
                self.tell(&format!("error: {}", groundrule_report::terminal::blame(blame)));
            }
            Trouble::Faults(faults) => self.faults(faults),
        }
    }

    /// Shows every fault of a file with the lines it points to.
    fn faults(&mut self, faults: &groundrule_plan::Faults) {
        use miette::{GraphicalReportHandler, GraphicalTheme};
        let coloured = match self.choice {
            ColorChoice::Always | ColorChoice::AlwaysAnsi => true,
            ColorChoice::Never => false,
            ColorChoice::Auto => AutoStream::choice(&std::io::stderr()) != ColorChoice::Never,
        };
        let theme = if coloured { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler = GraphicalReportHandler::new_themed(theme).with_width(stderr_width()).with_links(false);
        let mut text = String::new();
        match handler.render_report(&mut text, &faults.report()) {
            Ok(()) => self.tell(text.trim_end()),
            // The renderer fails only where it cannot write; the plain form says the same.
            Err(_) => self.tell(&faults.to_string()),
        }
    }
}

/// Prints bytes that are a file and not a text to look at.
pub(crate) fn print_raw(bytes: &[u8]) -> Result<(), Trouble> {
    let mut stream = std::io::stdout().lock();
    stream.write_all(bytes)?;
    stream.flush()?;
    Ok(())
}

/// True when progress may be shown.
pub(crate) fn shows_progress() -> bool {
    std::io::stderr().is_terminal()
}

/// The width to lay out results for.
pub(crate) fn width() -> usize {
    terminal_width(std::io::stdout().is_terminal())
}

fn stderr_width() -> usize {
    terminal_width(std::io::stderr().is_terminal())
}

fn terminal_width(is_terminal: bool) -> usize {
    // A width the user has set goes before what the terminal says.
    #[allow(clippy::disallowed_methods, reason = "the program is where the environment is read")]
    let stated = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse::<usize>().ok());
    let measured = is_terminal.then(textwrap::termwidth);
    stated.or(measured).unwrap_or(PLAIN).clamp(NARROWEST, WIDEST)
}
