//! What can only be seen with the whole plan at hand: names used twice, names of nothing, circles of names.

mod cycles;
mod known;
mod lists;
mod names;
mod references;

use crate::reader::Reader;
use crate::written::Draft;

/// Tells the reader of everything that does not hold together.
pub(crate) fn check(draft: &mut Draft, reader: &mut Reader<'_>) {
    names::check(draft, reader);
    lists::check(&draft.plan, reader);
    references::settle_walls(draft);
    let known = known::Known::of(draft);
    if references::check(draft, &known, reader) {
        cycles::check(&draft.plan, &known, reader);
    }
}
