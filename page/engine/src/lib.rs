//! The engine as a page in a browser calls it: memory handed to and fro, one question in JSON, one answer in JSON.
//!
//! Three exports, called so:
//!
//! 1. `alloc(len)` gives the address of `len` bytes, into which the page writes the question.
//! 2. `ask(address, len)` takes them and gives the answer: its address in the upper 32 bits, its length in the lower.
//! 3. `free(address, len)` takes the answer back when the page has read it.
//!
//! While `ask` works it calls one import, `page.hears(address, len)`, with what it is doing as a text.
//!
//! What a question is stands in `stepoff::answer::wire`.

use std::fmt::Arguments;

use stepoff::answer::{Asker, Stage, wire};

#[cfg(target_arch = "wasm32")]
#[link(wasm_import_module = "page")]
unsafe extern "C" {
    /// The page hears how far a long search is.
    fn hears(address: *const u8, len: usize);
}

/// The page that waits: no clock, and it stops a search by ending the worker that it runs in.
struct Page;

impl Asker for Page {
    fn hears(&self, _: Stage, how_far: Arguments<'_>) {
        let text = how_far.to_string();
        // the text lives until the page has copied it
        #[cfg(target_arch = "wasm32")]
        if !text.is_empty() {
            unsafe { hears(text.as_ptr(), text.len()) }
        }
        #[cfg(not(target_arch = "wasm32"))]
        drop(text);
    }
}

/// `len` bytes for a question. They are given back by [`ask`].
#[unsafe(no_mangle)]
pub extern "C" fn alloc(len: usize) -> *mut u8 {
    Box::into_raw(vec![0_u8; len].into_boxed_slice()).cast()
}

/// Takes back an answer.
///
/// # Safety
/// `address` and `len` are those of one answer of [`ask`] that was not taken back, or of one [`alloc`] not asked with.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn free(address: *mut u8, len: usize) {
    drop(unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(address, len)) });
}

/// Answers the question in these bytes, which are gone afterwards: the answer's address times 2^32, plus its length.
///
/// # Safety
/// `address` and `len` are those of one [`alloc`].
#[unsafe(no_mangle)]
pub unsafe extern "C" fn ask(address: *mut u8, len: usize) -> u64 {
    let question = unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(address, len)) };
    let answer = wire::answer(&question, &Page).into_boxed_slice();
    let len = answer.len() as u64;
    let address = Box::into_raw(answer).cast::<u8>() as u64;
    address << 32 | len
}
