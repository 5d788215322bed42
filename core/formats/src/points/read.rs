//! CSV of points to a plan.

use std::collections::BTreeMap;

use csv::{ReaderBuilder, StringRecord, Trim};
use groundrule_plan::{Faults, Plan, Source, Span};

use crate::LinearUnit;
use crate::gather::{Gather, span};
use crate::survey_points::{SurveyOptions, SurveyPoint, level, plan};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Column {
    Point,
    Northing,
    Easting,
    Level,
    Code,
}

/// The words headers use for each column (common practice of field software).
const WORDS: [(Column, &[&str]); 5] = [
    (Column::Point, &["point", "pt", "point no", "point number", "number", "no", "name", "id"]),
    (Column::Northing, &["northing", "north", "n", "y"]),
    (Column::Easting, &["easting", "east", "e", "x"]),
    (Column::Level, &["level", "elevation", "elev", "height", "z"]),
    (Column::Code, &["code", "description", "desc", "feature code"]),
];

/// Where the columns stand, and the unit their headers name.
struct Header {
    columns: BTreeMap<Column, usize>,
    unit: Option<LinearUnit>,
}

/// Reads points from a table with a header: point, northing, easting, level and code in any order, the last
/// two optional, separated by commas, semicolons or tabs.
///
/// The order of northing and easting cannot be told from the numbers, so a table without a header is
/// refused. The unit comes from the header, `northing (ft)`, or from the options.
pub fn read_csv(source: &Source, options: &SurveyOptions) -> Result<Plan, Faults> {
    let mut gather = Gather::new(source);
    let text = source.text.trim_start_matches('\u{feff}');
    let skipped = source.text.len() - text.len();
    let mut reader = ReaderBuilder::new()
        .delimiter(separator(text))
        .has_headers(false)
        .flexible(true)
        .trim(Trim::All)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let mut record = StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => rows.push((place_of(&record, text, skipped), record.clone())),
            Ok(false) => break,
            Err(error) => {
                gather.add(
                    "csv::broken",
                    format!("the table cannot be read on: {error}"),
                    (Span::default(), "the whole file"),
                    "save it as plain text in UTF-8, separated by commas",
                );
                break;
            }
        }
    }
    let header = rows.first().and_then(|(at, record)| header(&mut gather, record, *at));
    if rows.is_empty() && gather.is_empty() {
        gather.add("csv::empty", "the table is empty", (Span::default(), "here"), HEADER_HELP);
    }
    let Some(header) = header else { return Err(gather.into_faults()) };
    let Some(unit) = header.unit.or(options.unit) else {
        gather.add(
            "csv::no-unit",
            "nothing says which unit the coordinates are in",
            (rows.first().map_or(Span::default(), |(at, _)| *at), "the header"),
            "write it into the header, `northing (ft)`, or give it with the file: m, ft or survey ft",
        );
        return Err(gather.into_faults());
    };
    let points = points(&mut gather, &header, &rows[1..], unit);
    if points.is_empty() && gather.is_empty() {
        gather.add(
            "csv::no-points",
            "the table has a header and no points",
            (Span::default(), "here"),
            "add a row for each point",
        );
    }
    gather.finish(()).map(|()| plan(source, &points, Vec::new(), unit, options))
}

const HEADER_HELP: &str = "start with a header such as `point,northing,easting,level,code`; which of two numbers is the northing cannot be told otherwise";

/// The commonest of the three separators in the first line.
fn separator(text: &str) -> u8 {
    let first = text.lines().next().unwrap_or_default();
    let count = |wanted: u8| first.matches(char::from(wanted)).count();
    // The last of several largest wins, so the comma stands last.
    [b'\t', b';', b','].into_iter().max_by_key(|&byte| count(byte)).unwrap_or(b',')
}

fn header(gather: &mut Gather<'_>, record: &StringRecord, at: Span) -> Option<Header> {
    let mut columns = BTreeMap::new();
    let mut unit: Option<LinearUnit> = None;
    let mut unknown = Vec::new();
    let mut twice = None;
    for (index, cell) in record.iter().enumerate() {
        let (word, named) = word_and_unit(cell);
        let Some((column, _)) = WORDS.iter().find(|(_, words)| words.contains(&word.as_str())) else {
            unknown.push(cell.to_owned());
            continue;
        };
        twice = columns.insert(*column, index).map(|_| cell.to_owned()).or(twice);
        match (named, unit) {
            (Some(new), Some(old)) if new != old => {
                gather.add(
                    "csv::two-units",
                    format!("the header names two units, {} and {}", old.name(), new.name()),
                    (at, "the header"),
                    "give all coordinates in one unit",
                );
            }
            _ => unit = named.or(unit),
        }
    }
    let numbers = record.iter().filter(|cell| cell.parse::<f64>().is_ok()).count();
    if columns.is_empty() || numbers >= 2 {
        gather.add("csv::no-header", "the first line is no header", (at, "this line"), HEADER_HELP);
        return None;
    }
    if let Some(cell) = twice {
        gather.add(
            "csv::column-twice",
            format!("there are two columns for `{cell}`"),
            (at, "the header"),
            "leave one of them",
        );
    }
    for (column, word) in
        [(Column::Point, "point"), (Column::Northing, "northing"), (Column::Easting, "easting")]
    {
        if !columns.contains_key(&column) {
            let help = if unknown.is_empty() {
                format!("add a column headed `{word}`")
            } else {
                format!("rename a column to `{word}`; not recognised are: {}", unknown.join(", "))
            };
            gather.add(
                "csv::no-column",
                format!("there is no column for the {word}"),
                (at, "the header"),
                help,
            );
        }
    }
    gather.is_empty().then_some(Header { columns, unit })
}

/// `Northing (US ft)`, `northing_m` and `E [ft]` to the word and the unit.
fn word_and_unit(cell: &str) -> (String, Option<LinearUnit>) {
    let plain = cell.to_ascii_lowercase().replace(['_', '(', ')', '[', ']', '.', '#'], " ");
    let words: Vec<&str> = plain.split_whitespace().collect();
    // `us ft` before `ft`.
    for taken in (1..=2.min(words.len().saturating_sub(1))).rev() {
        let (word, unit) = words.split_at(words.len() - taken);
        if let Some(unit) = unit_of(&unit.join(" ")) {
            return (word.join(" "), Some(unit));
        }
    }
    (words.join(" "), None)
}

fn unit_of(text: &str) -> Option<LinearUnit> {
    Some(match text {
        "m" | "metre" | "metres" | "meter" | "meters" => LinearUnit::Metre,
        "mm" => LinearUnit::Millimetre,
        "ft" | "feet" | "foot" | "ift" | "intl ft" => LinearUnit::Foot,
        "us ft" | "usft" | "ftus" | "survey ft" | "sft" => LinearUnit::SurveyFoot,
        _ => return None,
    })
}

fn points(
    gather: &mut Gather<'_>,
    header: &Header,
    rows: &[(Span, StringRecord)],
    unit: LinearUnit,
) -> Vec<SurveyPoint> {
    let mut first: BTreeMap<String, Span> = BTreeMap::new();
    let mut points = Vec::new();
    for (at, record) in rows {
        let cell = |column| header.columns.get(&column).and_then(|&index| record.get(index)).unwrap_or("");
        let name = cell(Column::Point).to_owned();
        let mut number = |word: &str, text: &str| -> Option<f64> {
            let read = text.parse::<f64>().ok().filter(|number| number.is_finite());
            if read.is_none() {
                gather.add(
                    "csv::not-a-number",
                    match text {
                        "" => format!("point `{name}` has no {word}"),
                        _ => format!("the {word} of point `{name}` is `{text}`, not a number"),
                    },
                    (*at, "this line"),
                    "write plain decimals such as 5012.34, without thousands separators",
                );
            }
            read.map(|number| number * unit.one().metres())
        };
        let northing = number("northing", cell(Column::Northing));
        let easting = number("easting", cell(Column::Easting));
        let level = match cell(Column::Level) {
            "" => None,
            text => number("level", text).map(|metres| level(metres, text)),
        };
        if name.is_empty() {
            gather.add(
                "csv::no-name",
                "a point has no name",
                (*at, "this line"),
                "give each point a name or number",
            );
        } else if first.insert(name.clone(), *at).is_some() {
            gather.add(
                "csv::point-twice",
                format!("point `{name}` is there twice"),
                (*at, "the second time"),
                "rename one of them, or take it out",
            );
        }
        let code = Some(cell(Column::Code)).filter(|code| !code.is_empty()).map(str::to_owned);
        if let (Some(northing), Some(easting)) = (northing, easting) {
            points.push(SurveyPoint { name, northing, easting, level, code, span: *at });
        }
    }
    points
}

/// The line a record starts on, without its end.
fn place_of(record: &StringRecord, text: &str, skipped: usize) -> Span {
    let start = record.position().map_or(0, |at| usize::try_from(at.byte()).unwrap_or(usize::MAX));
    let line = text.get(start..).unwrap_or_default();
    let lead = line.len() - line.trim_start().len();
    let width = line[lead..].lines().next().map_or(0, str::len);
    span(skipped + start + lead..skipped + start + lead + width)
}
