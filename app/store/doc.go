// Package store keeps jobs on the disk: it reads and replaces their files, keeps
// earlier versions, tells a second window that a job is open, and keeps the
// journals of open jobs, from which a job is rebuilt after a crash.
//
// # Words
//
// A job's file is the one the user chose. Beside it lie a hidden file that says
// who has it open, and a hidden folder of earlier versions. Journals lie in a
// folder of the user's own on this machine, one for each open job, whether it
// has a file or not: so a job from a stick or a network folder that goes away
// is kept too, and a folder that may not be written costs no change.
//
// # What is always true
//
//  1. A file is replaced whole or not at all: a new one is written beside it and
//     flushed before it takes the name. On an error what was there is there, and
//     nothing is left beside it.
//  2. What is replaced is kept first, as one of the last five versions.
//  3. A file that is not as it was when it was last read or written is not
//     replaced unless that is asked for.
//  4. A journal that could be read can be read after any failure of the disk,
//     with all that was acknowledged in it.
//  5. A journal that can not be read is never removed.
//  6. No order of things follows from the clock, which may be set back.
//
// Everything goes through an FS, so that a test can make any step fail.
package store
