//! Parsing, checking and lowering: from written text to a tree over plain numbers.
//!
//! Lowering turns `subject.height` into one name, unit functions into a product with their factor, and
//! whole numbers into decimals, so that what runs later knows neither units nor integers.

use std::collections::BTreeMap;
use std::ops::Range;

use cel::common::ast::{CallExpr, Expr, LiteralValue, SelectExpr, SourceInfo, operators};
use cel::{Env, IdedExpr};

use super::functions::{FUNCTIONS, MAX_TEXT, UNITS};
use super::snapped;
use super::{Scope, Sort, Wrong};
use groundrule_plan::reader::nearest;

/// Deepest nesting the parser follows.
const MAX_DEPTH: u16 = 32;

/// A formula that passed, ready to run.
pub(super) struct Checked {
    pub(super) tree: IdedExpr,
    pub(super) sort: Sort,
    pub(super) names: BTreeMap<String, Sort>,
}

pub(super) fn check(text: &str, scope: &Scope<'_>) -> Result<Checked, Vec<Wrong>> {
    let whole = 0..text.len();
    if text.len() > MAX_TEXT {
        return Err(vec![wrong(
            whole,
            "the formula is too long",
            &format!("keep it under {MAX_TEXT} bytes; long cases read better as a table"),
        )]);
    }
    let parser = Env::default().with_optional_support(false).parser().max_recursion_depth(MAX_DEPTH);
    let (tree, places) = parser.parse_with_source_info(text).map_err(|errors| {
        let place = |pos: (isize, isize)| place_of(text, pos);
        errors
            .errors
            .iter()
            .take(1)
            .map(|e| {
                wrong(
                    place(e.pos),
                    "the formula cannot be read from here",
                    "formulas are written as `greatest(feet(5), subject.height / 2)`",
                )
            })
            .collect::<Vec<_>>()
    })?;
    let mut checker = Checker { scope, places, text, names: BTreeMap::new(), wrong: Vec::new() };
    match checker.lower(&tree) {
        Some((sort, tree)) if checker.wrong.is_empty() => Ok(Checked { tree, sort, names: checker.names }),
        _ => Err(checker.wrong),
    }
}

fn wrong(at: Range<usize>, message: &str, help: &str) -> Wrong {
    Wrong { at, message: message.to_owned(), help: Some(help.to_owned()) }
}

/// The byte of a parser's line and column.
fn place_of(text: &str, (line, column): (isize, isize)) -> Range<usize> {
    let line = usize::try_from(line - 1).unwrap_or(0);
    let before: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
    let start = (before + usize::try_from(column).unwrap_or(0)).min(text.len());
    // A formula that breaks off is wrong as a whole.
    if start < text.len() { start..text.len() } else { 0..text.len() }
}

/// A node that passed, with its sort.
type Lowered = Option<(Sort, IdedExpr)>;

struct Checker<'a> {
    scope: &'a Scope<'a>,
    places: SourceInfo,
    text: &'a str,
    names: BTreeMap<String, Sort>,
    wrong: Vec<Wrong>,
}

impl Checker<'_> {
    fn refuse<T>(&mut self, node: &IdedExpr, message: impl Into<String>, help: Option<String>) -> Option<T> {
        let at = self.extent(node);
        self.wrong.push(Wrong { at, message: message.into(), help });
        None
    }

    /// The bytes a node was written in, from its first leaf to its last.
    fn extent(&self, node: &IdedExpr) -> Range<usize> {
        let own = self.places.offset_for(node.id).map(|(start, stop)| start as usize..stop as usize + 1);
        let (name, parts): (&str, Vec<&IdedExpr>) = match &node.expr {
            Expr::Call(call) => {
                (&call.func_name, call.target.as_deref().into_iter().chain(&call.args).collect())
            }
            Expr::Select(select) => ("", vec![&select.operand]),
            Expr::List(list) => ("", list.elements.iter().collect()),
            _ => ("", Vec::new()),
        };
        let both = |a: Range<usize>, b: Range<usize>| a.start.min(b.start)..a.end.max(b.end);
        let whole = parts.into_iter().map(|part| self.extent(part)).chain(own.clone()).reduce(both);
        let mut whole = whole.unwrap_or(0..self.text.len());
        // The parser places a call at its opening bracket.
        let before = own.map_or(0, |own| own.start.min(self.text.len()));
        if name.starts_with(char::is_alphabetic)
            && self.text.get(..before).is_some_and(|text| text.ends_with(name))
        {
            whole.start = whole.start.min(before - name.len());
            let rest = self.text.get(whole.end..).unwrap_or_default();
            whole.end += rest.find(')').filter(|at| rest[..*at].trim().is_empty()).map_or(0, |at| at + 1);
        }
        // And a selected name at its dot.
        if let Expr::Select(select) = &node.expr {
            let rest = self.text.get(whole.end..).unwrap_or_default();
            whole.end += if rest.starts_with(&select.field) { select.field.len() } else { 0 };
        }
        whole.start.min(self.text.len())..whole.end.min(self.text.len())
    }

    fn lower(&mut self, node: &IdedExpr) -> Lowered {
        match &node.expr {
            Expr::Literal(literal) => self.literal(node, literal),
            Expr::Select(select) => self.name(node, select),
            Expr::Call(call) => self.call(node, call),
            Expr::Ident(name) => self.refuse(
                node,
                format!("`{name}` is not a name of this formula"),
                Some(format!("names have two parts, as `subject.{name}`")),
            ),
            Expr::List(_) => self.refuse(
                node,
                "a list can only stand after `in`",
                Some("as in `site.district in ['R-1', 'R-2']`".to_owned()),
            ),
            Expr::Map(_) | Expr::Struct(_) | Expr::Comprehension(_) | Expr::Unspecified => {
                self.refuse(node, "formulas of limits use no maps and no loops", None)
            }
        }
    }

    fn literal(&mut self, node: &IdedExpr, literal: &LiteralValue) -> Lowered {
        let (sort, literal) = match literal {
            LiteralValue::Double(number) => (Sort::PLAIN, number_literal(*number.inner())),
            LiteralValue::Int(number) => (Sort::PLAIN, number_literal(*number.inner() as f64)),
            LiteralValue::UInt(number) => (Sort::PLAIN, number_literal(*number.inner() as f64)),
            LiteralValue::Boolean(flag) => (Sort::Flag, LiteralValue::Boolean(*flag)),
            LiteralValue::String(text) => (Sort::Text, LiteralValue::String(text.clone())),
            LiteralValue::Bytes(_) | LiteralValue::Null => {
                return self.refuse(node, "only numbers, texts, true and false can stand here", None);
            }
        };
        Some((sort, IdedExpr { id: node.id, expr: Expr::Literal(literal) }))
    }

    fn name(&mut self, node: &IdedExpr, select: &SelectExpr) -> Lowered {
        let (dotted, sort) = self.dotted(node, select)?;
        if sort == Sort::Lengths {
            let message = format!("`{dotted}` is a list of lengths, which no formula takes");
            let help =
                format!("a check measures with its members; `has({dotted})` asks whether it is stated");
            return self.refuse(node, message, Some(help));
        }
        self.names.insert(dotted.clone(), sort);
        Some((sort, IdedExpr { id: node.id, expr: Expr::Ident(dotted) }))
    }

    fn dotted(&mut self, node: &IdedExpr, select: &SelectExpr) -> Option<(String, Sort)> {
        let Expr::Ident(root) = &select.operand.expr else {
            return self.refuse(node, "names have two parts, as `subject.height`", None);
        };
        match self.scope.sort_of(root, &select.field) {
            Ok(sort) => Some((format!("{root}.{}", select.field), sort)),
            Err((message, help)) => self.refuse(node, message, help),
        }
    }

    fn call(&mut self, node: &IdedExpr, call: &CallExpr) -> Lowered {
        if let Some(target) = &call.target {
            return self.method(node, call, target);
        }
        let name = call.func_name.as_str();
        if let Some((_, factor, sort, _)) = UNITS.iter().find(|unit| unit.0 == name) {
            return self.unit(node, call, *factor, *sort);
        }
        match (name, call.args.as_slice()) {
            ("has", [argument]) => self.has(argument),
            (operators::IN, [item, list]) => self.among(node, item, list),
            ("least" | "greatest", [_, _, ..]) | ("round_up" | "round_down", [_, _]) => {
                self.extreme(node, call)
            }
            ("least" | "greatest", _) => {
                self.refuse(node, format!("`{name}` compares two or more amounts"), None)
            }
            ("round_up" | "round_down", _) => {
                self.refuse(node, format!("`{name}` takes an amount and a step"), None)
            }
            ("has", _) => self.refuse(node, "`has` asks for one name", None),
            (operators::CONDITIONAL, [condition, yes, no]) => self.choice(node, condition, yes, no),
            (operators::LOGICAL_NOT, [_]) | (operators::LOGICAL_AND | operators::LOGICAL_OR, [_, _]) => {
                self.logic(node, call)
            }
            (operators::NEGATE, [argument]) => {
                let (sort, lowered) = self.lower(argument)?;
                if sort.is_number() {
                    Some((sort, rebuilt(node, call, vec![lowered])))
                } else {
                    self.refuse(node, format!("a minus cannot stand before {}", sort.words()), None)
                }
            }
            (_, [left, right]) if OPERATORS.iter().any(|(op, _)| *op == name) => {
                self.binary(node, call, left, right)
            }
            _ => {
                let known = UNITS.iter().map(|u| u.0).chain(FUNCTIONS.iter().map(|f| f.0));
                let help = nearest(name, known).map(|near| format!("did you mean `{near}`?"));
                self.refuse(node, format!("there is no function `{name}` for these values"), help)
            }
        }
    }

    fn unit(&mut self, node: &IdedExpr, call: &CallExpr, factor: f64, sort: Sort) -> Lowered {
        let [argument] = call.args.as_slice() else {
            return self.refuse(node, format!("`{}` takes one number", call.func_name), None);
        };
        let (given, lowered) = self.lower(argument)?;
        if given != Sort::PLAIN {
            let message = format!("`{}` takes a plain number, and this is {}", call.func_name, given.words());
            return self.refuse(argument, message, None);
        }
        // A written figure is multiplied here, once, exactly as a constant limit is.
        let expr = match lowered.expr {
            Expr::Literal(LiteralValue::Double(number)) => {
                let figure = number.inner() * factor;
                Expr::Literal(number_literal(if sort == Sort::Metres(1) { snapped(figure) } else { figure }))
            }
            other => product(IdedExpr { id: lowered.id, expr: other }, factor),
        };
        Some((sort, IdedExpr { id: node.id, expr }))
    }

    fn has(&mut self, argument: &IdedExpr) -> Lowered {
        let Expr::Select(select) = &argument.expr else {
            return self.refuse(argument, "`has` asks for a name, as `has(subject.height)`", None);
        };
        let (dotted, sort) = self.dotted(argument, select)?;
        self.names.insert(dotted.clone(), sort);
        Some((Sort::Flag, IdedExpr { id: argument.id, expr: Expr::Ident(stated(&dotted)) }))
    }

    fn among(&mut self, node: &IdedExpr, item: &IdedExpr, list: &IdedExpr) -> Lowered {
        let Expr::List(written) = &list.expr else {
            return self.refuse(list, "`in` needs a list, as `['R-1', 'R-2']`", None);
        };
        let (sort, lowered) = self.lower(item)?;
        let mut elements = Vec::new();
        for element in &written.elements {
            let (each, lowered) = self.lower(element)?;
            if each != sort || !matches!(each, Sort::Text | Sort::Metres(0)) {
                return self.refuse(
                    element,
                    format!("{} is looked for among {}", sort.words(), each.words()),
                    None,
                );
            }
            elements.push(lowered);
        }
        let list = IdedExpr { id: list.id, expr: Expr::List(cel::common::ast::ListExpr::new(elements)) };
        Some((Sort::Flag, IdedExpr { id: node.id, expr: called(operators::IN, vec![lowered, list]) }))
    }

    fn extreme(&mut self, node: &IdedExpr, call: &CallExpr) -> Lowered {
        let lowered: Vec<Lowered> = call.args.iter().map(|argument| self.lower(argument)).collect();
        let mut lowered = lowered.into_iter().collect::<Option<Vec<_>>>()?.into_iter();
        let (sort, mut tree) = lowered.next()?;
        for (each, next) in lowered {
            if each != sort || !sort.is_number() {
                let does = if call.func_name.starts_with("round") { "brings" } else { "compares" };
                let to = if call.func_name.starts_with("round") { "to steps of" } else { "with" };
                return self.refuse(
                    node,
                    format!("`{}` {does} {} {to} {}", call.func_name, sort.words(), each.words()),
                    None,
                );
            }
            tree = IdedExpr { id: node.id, expr: called(&call.func_name, vec![tree, next]) };
        }
        Some((sort, tree))
    }

    fn choice(&mut self, node: &IdedExpr, condition: &IdedExpr, yes: &IdedExpr, no: &IdedExpr) -> Lowered {
        let (asked, yes, no) = (self.lower(condition), self.lower(yes), self.lower(no));
        let ((asked, condition), (sort, yes), (other, no)) = (asked?, yes?, no?);
        if asked != Sort::Flag {
            return self.refuse(node, "before `?` stands a yes or no", None);
        }
        if sort != other {
            return self.refuse(
                node,
                format!("one answer is {} and the other {}", sort.words(), other.words()),
                None,
            );
        }
        Some((sort, IdedExpr { id: node.id, expr: called(operators::CONDITIONAL, vec![condition, yes, no]) }))
    }

    fn logic(&mut self, node: &IdedExpr, call: &CallExpr) -> Lowered {
        let mut arguments = Vec::new();
        let parts: Vec<Lowered> = call.args.iter().map(|argument| self.lower(argument)).collect();
        for (part, written) in parts.into_iter().zip(&call.args) {
            let (sort, lowered) = part?;
            if sort != Sort::Flag {
                return self.refuse(
                    written,
                    format!("a yes or no belongs here, and this is {}", sort.words()),
                    None,
                );
            }
            arguments.push(lowered);
        }
        Some((Sort::Flag, rebuilt(node, call, arguments)))
    }

    fn method(&mut self, node: &IdedExpr, call: &CallExpr, target: &IdedExpr) -> Lowered {
        let name = call.func_name.as_str();
        if !matches!(name, "startsWith" | "endsWith" | "contains") || call.args.len() != 1 {
            let help = "of a text can be asked `startsWith`, `endsWith` and `contains`";
            return self.refuse(node, format!("`.{name}(...)` is not for limits"), Some(help.to_owned()));
        }
        let (of, asked) = (self.lower(target), self.lower(call.args.first()?));
        let ((of, target), (asked, argument)) = (of?, asked?);
        if of != Sort::Text || asked != Sort::Text {
            return self.refuse(node, format!("`{name}` is for texts"), None);
        }
        let call =
            CallExpr { func_name: name.to_owned(), target: Some(Box::new(target)), args: vec![argument] };
        Some((Sort::Flag, IdedExpr { id: node.id, expr: Expr::Call(call) }))
    }

    fn binary(&mut self, node: &IdedExpr, call: &CallExpr, left: &IdedExpr, right: &IdedExpr) -> Lowered {
        let (left, right) = (self.lower(left), self.lower(right));
        let ((a, left), (b, right)) = (left?, right?);
        let name = call.func_name.as_str();
        let sort = match name {
            operators::ADD | operators::SUBSTRACT => (a == b && a.is_number()).then_some(a),
            operators::MULTIPLY => a.times(b, false),
            operators::DIVIDE => a.times(b, true),
            operators::EQUALS | operators::NOT_EQUALS => {
                (a == b && matches!(a, Sort::Text | Sort::Flag | Sort::Metres(0))).then_some(Sort::Flag)
            }
            _ => (a == b && a.is_number()).then_some(Sort::Flag),
        };
        let Some(sort) = sort else {
            let sign = OPERATORS.iter().find(|(op, _)| *op == name).map_or("", |(_, sign)| *sign);
            let help = match (name, a == b) {
                (operators::EQUALS | operators::NOT_EQUALS, true) => {
                    "a measured amount is never exactly equal; use `>=` or `<=`"
                }
                _ => "give plain numbers a unit, as `feet(5)` or `percent(10)`",
            };
            return self.refuse(
                node,
                format!("`{sign}` stands between {} and {}", a.words(), b.words()),
                Some(help.to_owned()),
            );
        };
        Some((sort, rebuilt(node, call, vec![left, right])))
    }
}

const OPERATORS: [(&str, &str); 10] = [
    (operators::ADD, "+"),
    (operators::SUBSTRACT, "-"),
    (operators::MULTIPLY, "*"),
    (operators::DIVIDE, "/"),
    (operators::EQUALS, "=="),
    (operators::NOT_EQUALS, "!="),
    (operators::LESS, "<"),
    (operators::LESS_EQUALS, "<="),
    (operators::GREATER, ">"),
    (operators::GREATER_EQUALS, ">="),
];

/// The name under which the run keeps whether a fact is stated.
pub(super) fn stated(dotted: &str) -> String {
    format!("has.{dotted}")
}

fn number_literal(number: f64) -> LiteralValue {
    LiteralValue::Double(number.into())
}

fn called(name: &str, args: Vec<IdedExpr>) -> Expr {
    Expr::Call(CallExpr { func_name: name.to_owned(), target: None, args })
}

fn rebuilt(node: &IdedExpr, call: &CallExpr, args: Vec<IdedExpr>) -> IdedExpr {
    IdedExpr { id: node.id, expr: called(&call.func_name, args) }
}

fn product(of: IdedExpr, factor: f64) -> Expr {
    let factor = IdedExpr { id: of.id, expr: Expr::Literal(number_literal(factor)) };
    called(operators::MULTIPLY, vec![of, factor])
}
