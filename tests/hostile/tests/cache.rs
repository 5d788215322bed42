//! Compiled code is kept, found again, and compiled anew when what was kept is not what was stored.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use groundrule_sandbox::{CodeCache, Limits, Sandbox};

use crate::{MISFIT, WITNESS, garden, load, run, tight};

/// A cache in memory that counts.
#[derive(Clone, Default)]
struct Shelf(Arc<Mutex<Kept>>);

#[derive(Default)]
struct Kept {
    code: BTreeMap<String, Vec<u8>>,
    loads: u32,
    stores: u32,
}

impl CodeCache for Shelf {
    fn load(&self, key: &str) -> Option<Vec<u8>> {
        let mut kept = self.0.lock().expect("one thread");
        kept.loads += 1;
        kept.code.get(key).cloned()
    }

    fn store(&self, key: &str, bytes: &[u8]) {
        let mut kept = self.0.lock().expect("one thread");
        kept.stores += 1;
        kept.code.insert(key.to_owned(), bytes.to_vec());
    }
}

impl Shelf {
    /// Loads and runs the witness in a new sandbox; says how often code was stored so far.
    fn visit(&self, limits: Limits) -> u32 {
        let sandbox = Sandbox::new(limits, Some(Box::new(self.clone()))).expect("the engine starts");
        let (readings, fuel) =
            run(&load(&sandbox, "witness", WITNESS), &garden::site(), "gap").expect("it runs");
        let plain = Sandbox::new(limits, None).expect("the engine starts");
        let fresh = run(&load(&plain, "witness", WITNESS), &garden::site(), "gap").expect("it runs");
        assert_eq!((readings, fuel), fresh, "cached code does the same for the same fuel");
        self.0.lock().expect("one thread").stores
    }

    fn change(&self, change: impl Fn(&mut Vec<u8>)) {
        self.0.lock().expect("one thread").code.values_mut().for_each(change);
    }
}

#[test]
fn code_is_kept_and_whatever_is_wrong_with_it_is_compiled_again() {
    let shelf = Shelf::default();
    assert_eq!(shelf.visit(tight()), 1, "compiled and kept");
    assert_eq!(shelf.visit(tight()), 1, "found again");
    shelf.change(|code| {
        let middle = code.len() / 2;
        code[middle] ^= 1;
    });
    assert_eq!(shelf.visit(tight()), 2, "a flipped bit");
    assert_eq!(shelf.visit(tight()), 2, "mended");
    shelf.change(|code| code.truncate(100));
    assert_eq!(shelf.visit(tight()), 3, "torn");
    shelf.change(Vec::clear);
    assert_eq!(shelf.visit(tight()), 4, "empty");
}

#[test]
fn code_kept_under_another_modules_name_is_not_taken_for_it() {
    let shelf = Shelf::default();
    let sandbox = Sandbox::new(tight(), Some(Box::new(shelf.clone()))).expect("the engine starts");
    load(&sandbox, "witness", WITNESS);
    load(&sandbox, "misfit", MISFIT);
    {
        let mut kept = shelf.0.lock().expect("one thread");
        let mut code = std::mem::take(&mut kept.code).into_iter();
        let ((one, a), (two, b)) = (code.next().expect("one"), code.next().expect("two"));
        kept.code = BTreeMap::from([(one, b), (two, a)]);
    }
    assert_eq!(load(&sandbox, "witness", WITNESS).checks()[0].name, "gap");
    assert_eq!(shelf.0.lock().expect("one thread").stores, 3, "compiled again");
}

#[test]
fn keys_are_plain_file_names() {
    let shelf = Shelf::default();
    shelf.visit(tight());
    let kept = shelf.0.lock().expect("one thread");
    let plain = |key: &String| key.len() == 64 && key.bytes().all(|byte| byte.is_ascii_hexdigit());
    assert!(kept.code.keys().all(plain), "{:?}", kept.code.keys());
}
