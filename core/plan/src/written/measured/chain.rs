//! `[[chain]]`: dimensions one after another along a line.

use std::collections::BTreeMap;

use groundrule_units::{Length, Written};

use super::{Measured, PointName, given, ids, name_of, one_key};
use crate::model::{Accuracy, Chain, Lengths, Piece, PointRef, Reading, WallRef};
use crate::reader::{Form, Keys, NotNegative, Read, Reader, Shape, Value, is_name, quote, span_of};
use crate::{At, Fault, Name, Span};

crate::table! {
    /// Dimensions one after another along a line, from mark to mark.
    pub(crate) table ChainTable {
        /// Piece by piece: a mark, the length to the next, that mark, and so on. Marks between the first and the last
        /// may go without a name.
        optional read: Marks,
        /// The same with running figures, all counted from the first mark.
        optional running: Marks,
        /// From the first mark to the last, measured by itself: the check.
        optional overall: Lengths,
        /// The line it runs along, where that is not from its first mark to its last.
        optional along: WallRef,
        /// `true` when the marks stand off the line, each read square to it.
        optional abreast: bool,
        /// How well each length, or each mark, was read; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `chain-sw-se`, by its first and last mark.
        optional id: At<Name>,
    }
}

/// A mark or a length.
#[derive(Debug)]
pub(crate) enum Token {
    Mark(PointRef),
    Length(At<Written<Length>>),
}

/// True for a text that is meant as a length: names do not start so.
fn looks_like_a_length(text: &str) -> bool {
    text.trim_start().starts_with(|c: char| c.is_numeric() || ".,~+-−±".contains(c))
}

impl Read for Token {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "mark or length",
            doc: "The name of a point, or a length. What starts with a digit, `.`, `~`, `+` or `-` is a length, all else \
                  a name. A point that is first named here is measured by this.",
            example: "\"sw\"",
            of: Box::new(Shape::Any(vec![PointRef::shape(), NotNegative::shape()])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = value.get_ref().as_str();
        let Some(name) = text.filter(|text| !looks_like_a_length(text)) else {
            let value_is_number =
                text.is_some() || value.get_ref().is_integer() || value.get_ref().is_float();
            if !value_is_number {
                return reader.wrong_type::<Self, _>(value);
            }
            let length = NotNegative::read(value, reader)?.0;
            return Some(Self::Length(At { value: length, span: span_of(value) }));
        };
        if name.split('.').all(is_name) {
            return PointRef::read(value, reader).map(Self::Mark);
        }
        let message = format!("{} is neither a mark nor a length.", quote(name));
        let help = "A mark has the name of a point: `sw`, `house.ne`. A length starts with a digit: `12 ft`.";
        reader.fault_help("plan::bad-reference", message, span_of(value), "not understood", help)
    }
}

/// Marks with the lengths between them.
#[derive(Debug)]
pub(crate) struct Marks {
    tokens: Vec<Token>,
    span: Span,
}

impl Read for Marks {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "marks",
            doc: "A list that begins and ends with the name of a mark, with a length or more between any two names.",
            example: "[\"sw\", \"10 ft\", \"house.sw\", \"52 ft\", \"se\"]",
            of: Box::new(Shape::List { of: Box::new(Token::shape()), least: 3, most: None }),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(items) = value.get_ref().as_array() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let tokens: Vec<Option<Token>> = items.iter().map(|item| Token::read(item, reader)).collect();
        Some(Self { tokens: tokens.into_iter().collect::<Option<_>>()?, span: span_of(value) })
    }
}

const EXAMPLE: &str =
    "Write a mark, a length, a mark: `[\"sw\", \"10 ft\", \"house.sw\", \"22 ft\", \"se\"]`.";

impl Measured for ChainTable {
    const SECTION: &'static str = "chain";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let ways = ["read", "running"];
        let Some(way) = given(keys, &ways) else {
            let help = "Write `read` piece by piece, or `running` with all figures from the first mark.";
            return one_key(keys, &ways, "What the chain reads", help, reader);
        };
        let running = way == "running";
        let marks = if running { self.running } else { self.read };
        let pieces = marks.and_then(|marks| pieces(marks, running, reader));
        let overall = if keys.has("overall") { self.overall? } else { Lengths::default() };
        let along = if keys.has("along") { Some(self.along?) } else { None };
        let abreast = if keys.has("abreast") { self.abreast? } else { false };
        let (start, pieces) = pieces?;
        Some(Reading::Chain(Chain { along, start, pieces, running, overall, abreast }))
    }
}

/// The first mark and the pieces, where they alternate as they must.
fn pieces(marks: Marks, running: bool, reader: &mut Reader<'_>) -> Option<(PointRef, Vec<Piece>)> {
    let span = marks.span;
    let mut tokens = marks.tokens.into_iter();
    let start = match tokens.next() {
        Some(Token::Mark(start)) => start,
        Some(Token::Length(length)) => {
            let message = "A chain starts at a mark with a name, and this one with a length.";
            return reader.fault_help("plan::chain", message, length.span, "no mark before it", EXAMPLE);
        }
        None => {
            let message = "The chain is empty.";
            return reader.fault_help("plan::chain", message, span, "no mark and no length", EXAMPLE);
        }
    };
    let mut sound = true;
    let mut pieces: Vec<Piece> = Vec::new();
    let mut last = start.span;
    for token in tokens {
        match token {
            Token::Length(length) => {
                let before = pieces.last().filter(|_| running).map(|piece| &piece.length);
                sound &= before.is_none_or(|before| rises(before, &length, reader));
                pieces.push(Piece { length, to: None });
            }
            Token::Mark(mark) => {
                let at = mark.span;
                if let Some(piece) = pieces.last_mut().filter(|piece| piece.to.is_none()) {
                    piece.to = Some(mark);
                } else {
                    sound = false;
                    let message = format!("There is no length before `{}`.", ids::in_words(&mark));
                    let fault = Fault::new("plan::chain", message, at, "a second mark");
                    let fault = fault.with_label(last, "right after this one");
                    reader.tell(fault.with_help("Write the length between the two marks."));
                }
                last = at;
            }
        }
    }
    match pieces.last() {
        Some(Piece { to: None, length }) => {
            let message = "A chain ends at a mark with a name, and this one with a length.";
            let help = "Write the mark it ends at behind the last length.";
            return reader.fault_help("plan::chain", message, length.span, "no mark after it", help);
        }
        None if sound => {
            let message = "The chain has no length.";
            return reader.fault_help("plan::chain", message, span, "only a mark", EXAMPLE);
        }
        _ => {}
    }
    sound &= each_once(&start, &pieces, reader);
    sound.then_some((start, pieces))
}

/// True when a running figure is not less than the one before.
fn rises(before: &At<Written<Length>>, figure: &At<Written<Length>>, reader: &mut Reader<'_>) -> bool {
    if figure.value.value >= before.value.value {
        return true;
    }
    let message = format!("The running figures go down, to {}.", quote(&figure.value.text));
    let fault = Fault::new("plan::running-figures", message, figure.span, "less than the one before");
    let fault = fault.with_label(before.span, "the one before");
    reader.tell(fault.with_help(
        "Running figures all count from the first mark; lengths piece by piece stand under `read`.",
    ));
    false
}

/// True when no mark comes twice: along a line none can.
fn each_once(start: &PointRef, pieces: &[Piece], reader: &mut Reader<'_>) -> bool {
    let mut first: BTreeMap<PointName, Span> = BTreeMap::new();
    let mut once = true;
    for mark in std::iter::once(start).chain(pieces.iter().filter_map(|piece| piece.to.as_ref())) {
        if let Some(before) = first.insert(name_of(mark), mark.span) {
            once = false;
            let message = format!("The mark `{}` comes twice in one chain.", ids::in_words(mark));
            let fault = Fault::new("plan::duplicate-mark", message, mark.span, "again here");
            reader.tell(
                fault
                    .with_label(before, "first here")
                    .with_help("Rename one, or write a chain for each line."),
            );
        }
    }
    once
}
