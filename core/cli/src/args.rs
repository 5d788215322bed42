//! The command line: one table that parsing, help, man page and completions all come from.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use groundrule_units::Style;

/// Checks garden and residential site plans against rule packs, and says how sure it is.
///
/// Every answer rests on the accuracy the plan states. Nothing printed here replaces local codes,
/// the agency that enforces them, or licensed practice.
#[derive(Debug, Parser)]
#[command(name = "groundrule", version, propagate_version = true, arg_required_else_help = true)]
#[command(after_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// When to colour what is printed; words carry the meaning either way
    #[arg(long, global = true, value_name = "WHEN", default_value_t = Colour::Auto, value_enum)]
    pub(crate) color: Colour,

    #[command(subcommand)]
    pub(crate) command: Command,
}

const EXIT_CODES: &str = "\
Exit codes:
  0  nothing that is required fails or is open
  1  there are findings to answer
  2  the plan, a pack or the command line could not be used
  3  a rule module stopped, or the program failed";

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Review one or more plans against rule packs
    Review(Review),
    /// List what to take in the field so that open verdicts are settled, or write the field sheet
    Fieldwork(Fieldwork),
    /// List the measured points of a plan and how well each is known
    Survey(Survey),
    /// Draw a plan without reviewing it
    Draw(Draw),
    /// Draw a section of the ground along a line
    Section(Section),
    /// List the areas and lengths of a plan
    Areas(Areas),
    /// Say what a rule asks, why, and where its figure comes from
    Why(Why),
    /// List the rules of the packs in force, or the packs themselves
    Rules(Rules),
    /// Write a small plan to begin from
    Begin(Begin),
    /// Print a completion script for a shell
    Completions(Completions),
    /// Print the manual page
    Man,
}

#[derive(Debug, Args)]
pub(crate) struct Review {
    /// Plans: TOML, GeoJSON, GeoPackage, LandXML, or CSV points
    #[arg(required = true, value_name = "PLAN")]
    pub(crate) plans: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) packs: Packs,
    /// Write the report to a file as well; its ending says how: .html, .json, .svg, .geojson, .txt
    #[arg(short, long, value_name = "FILE")]
    pub(crate) write: Vec<PathBuf>,
    /// Print JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
    /// Print every finding, also what meets and what does not apply
    #[arg(long)]
    pub(crate) all: bool,
    /// Print the result and nothing else
    #[arg(short, long)]
    pub(crate) quiet: bool,
    #[command(flatten)]
    pub(crate) judging: Judging,
    #[command(flatten)]
    pub(crate) units: Units,
    #[command(flatten)]
    pub(crate) drawn: Drawn,
    #[command(flatten)]
    pub(crate) import: Import,
    #[command(flatten)]
    pub(crate) sandbox: Sandbox,
}

/// What is drawn besides the plan.
#[derive(Debug, Args)]
pub(crate) struct Drawn {
    /// Draw how well points and dimensions are known
    #[arg(long)]
    pub(crate) error_figures: bool,
}

/// How verdicts are given.
#[derive(Debug, Args)]
pub(crate) struct Judging {
    /// Probability that must be reached before a verdict is given, in percent
    #[arg(long, value_name = "PERCENT", default_value = "95", value_parser = percent)]
    pub(crate) level: f64,
    /// Date to judge at, YYYY-MM-DD; the plan's filing date when not given
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub(crate) date: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Fieldwork {
    #[command(flatten)]
    pub(crate) plan: OnePlan,
    #[command(flatten)]
    pub(crate) packs: Packs,
    /// Write the field sheet: .html for a page to print, .svg for its sketch alone
    #[arg(short, long, value_name = "FILE")]
    pub(crate) write: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) judging: Judging,
    #[command(flatten)]
    pub(crate) sandbox: Sandbox,
}

#[derive(Debug, Args)]
pub(crate) struct Survey {
    #[command(flatten)]
    pub(crate) plan: OnePlan,
}

#[derive(Debug, Args)]
pub(crate) struct Packs {
    /// A rule pack: the name of one that is built in, or a file; repeat for several
    #[arg(short, long = "pack", value_name = "PACK", default_value = "common-practice")]
    pub(crate) packs: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Units {
    /// Units to write in; those of the plan when not given
    #[arg(long, value_enum, value_name = "UNITS")]
    pub(crate) units: Option<UnitStyle>,
}

/// How to read files that are not plans of our own.
#[derive(Debug, Args)]
#[command(next_help_heading = "Files from elsewhere")]
pub(crate) struct Import {
    /// Name of the layer of buildings
    #[arg(long, value_name = "LAYER", default_value = "buildings")]
    pub(crate) buildings: String,
    /// Name of the layer of lots
    #[arg(long, value_name = "LAYER", default_value = "plots")]
    pub(crate) lots: String,
    /// Name of the layer of streets
    #[arg(long, value_name = "LAYER", default_value = "streets")]
    pub(crate) streets: String,
    /// The zoning district they lie in
    #[arg(long, value_name = "DISTRICT")]
    pub(crate) district: Option<String>,
    /// How good their positions are, plus or minus at 95 %; 5 ft for maps when not given
    #[arg(long, value_name = "LENGTH")]
    pub(crate) map_accuracy: Option<String>,
}

/// What a rule module may use.
#[derive(Debug, Args)]
#[command(next_help_heading = "Limits on rule modules")]
pub(crate) struct Sandbox {
    /// Units of fuel for one run of a module
    #[arg(long, value_name = "UNITS")]
    pub(crate) fuel: Option<u64>,
    /// Memory for one run of a module, in MiB
    #[arg(long, value_name = "MIB")]
    pub(crate) memory: Option<usize>,
    /// Do not keep or use compiled modules in the user's cache folder
    #[arg(long)]
    pub(crate) no_cache: bool,
    /// A further rule module: a WebAssembly component file; repeat for several
    #[arg(long = "module", value_name = "FILE")]
    pub(crate) modules: Vec<PathBuf>,
}

/// One plan, and how to read and write it.
#[derive(Debug, Args)]
pub(crate) struct OnePlan {
    /// The plan
    #[arg(value_name = "PLAN")]
    pub(crate) file: PathBuf,
    #[command(flatten)]
    pub(crate) units: Units,
    #[command(flatten)]
    pub(crate) import: Import,
}

#[derive(Debug, Args)]
pub(crate) struct Draw {
    #[command(flatten)]
    pub(crate) plan: OnePlan,
    /// Where to write the drawing: .svg; printed when not given
    #[arg(short, long, value_name = "FILE")]
    pub(crate) write: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) drawn: Drawn,
}

#[derive(Debug, Args)]
pub(crate) struct Section {
    #[command(flatten)]
    pub(crate) plan: OnePlan,
    /// The id of a line of the plan, or two or more of its points from left to right: `house.ne,lot.se`
    #[arg(value_name = "LINE")]
    pub(crate) line: String,
    /// Where to write the section: .svg; printed when not given
    #[arg(short, long, value_name = "FILE")]
    pub(crate) write: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Areas {
    #[command(flatten)]
    pub(crate) plan: OnePlan,
    /// Write the list to a file: .csv
    #[arg(short, long, value_name = "FILE")]
    pub(crate) write: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Why {
    /// The rule's id, as a finding names it: `side-yard` or `tern-hollow/side-yard`
    #[arg(value_name = "RULE")]
    pub(crate) rule: String,
    #[command(flatten)]
    pub(crate) packs: Packs,
}

#[derive(Debug, Args)]
pub(crate) struct Rules {
    #[command(flatten)]
    pub(crate) packs: Packs,
    /// List the packs that are built in
    #[arg(long)]
    pub(crate) list_packs: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Begin {
    /// The file to write; it must not be there yet
    #[arg(value_name = "FILE", default_value = "plan.toml")]
    pub(crate) file: PathBuf,
    /// Feet or metres
    #[arg(long, value_enum, default_value_t = BeginUnits::Ft)]
    pub(crate) units: BeginUnits,
}

#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Colour {
    /// When the output is a terminal and `NO_COLOR` is not set
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum UnitStyle {
    /// Feet and inches to 1/8 in
    FeetInches,
    /// Decimal feet to 0.01 ft
    Feet,
    /// Metres to 1 mm
    Metres,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum BeginUnits {
    /// Feet
    Ft,
    /// Metres
    M,
}

impl From<UnitStyle> for Style {
    fn from(style: UnitStyle) -> Self {
        match style {
            UnitStyle::FeetInches => Self::FeetInches,
            UnitStyle::Feet => Self::DecimalFeet,
            UnitStyle::Metres => Self::Metres,
        }
    }
}

fn percent(text: &str) -> Result<f64, String> {
    match text.trim_end_matches('%').trim().parse::<f64>() {
        Ok(value) if value > 50.0 && value < 100.0 => Ok(value / 100.0),
        _ => Err("give a percentage above 50 and below 100, for example 95".to_owned()),
    }
}

fn date(text: &str) -> Result<String, String> {
    let mut parts = text.splitn(3, '-').map(|part| (part.len(), part.parse::<u32>()));
    match (parts.next(), parts.next(), parts.next()) {
        (Some((4, Ok(_))), Some((2, Ok(1..=12))), Some((2, Ok(1..=31)))) => Ok(text.to_owned()),
        _ => Err("give a date as YYYY-MM-DD, for example 2026-05-04".to_owned()),
    }
}
