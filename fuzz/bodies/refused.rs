//! What must be true of a refusal: every fault has a place, says what is wrong and what to write instead.

use stepoff::answer::{NoAnswer, Refused};
use stepoff::plan::{Fault, Place};

/// Holds of why there is no answer.
#[track_caller]
pub(super) fn has_places(why: &NoAnswer) {
    match why {
        NoAnswer::Refused(all) => {
            assert!(!all.is_empty(), "refused without a word");
            all.iter().for_each(of_file);
        }
        NoAnswer::Stopped(how_far) => assert!(!how_far.is_empty()),
    }
    let told = why.text(false);
    assert!(told.starts_with("error: "), "{told}");
    assert!(!told.contains('\u{1b}'), "raw letters are shown: {told:?}");
}

#[track_caller]
fn of_file(refused: &Refused) {
    assert!(!refused.faults.is_empty(), "refused without a fault");
    let text = refused.file.as_ref().map_or("", |file| file.text.as_str());
    refused.faults.iter().for_each(|fault| of_fault(fault, text));
}

/// Holds of one fault of `text`.
#[track_caller]
pub(super) fn of_fault(fault: &Fault, text: &str) {
    assert!(!fault.message.trim().is_empty(), "{fault:?}");
    assert!(!fault.help.trim().is_empty(), "{fault:?}");
    match &fault.place {
        Place::File(span) => {
            assert!(text.get(span.clone()).is_some(), "{fault:?} of {} bytes", text.len());
        }
        Place::Flag { flag, .. } => assert!(!flag.is_empty(), "{fault:?}"),
        Place::Missing { key, .. } => assert!(!key.is_empty(), "{fault:?}"),
    }
}
