//! `[sheet]`: what the sheet itself states.

use crate::At;
use crate::model::Sheet;
use crate::reader::Date;

crate::table! {
    /// What the sheet itself states.
    pub(crate) table SheetTable {
        /// Its date.
        optional date: At<Date>,
        /// Its scale as written on it: `1" = 20'`, `1:200`.
        optional scale: At<String>,
        /// Who drew it.
        optional drawn_by: At<String>,
    }
}

impl SheetTable {
    pub(crate) fn sheet(self) -> Sheet {
        let date = self.date.map(|date| At { value: date.value.0, span: date.span });
        Sheet { date, scale: self.scale, drawn_by: self.drawn_by }
    }
}
