//! Job, reckoned sizes and drawings to pages: page data, the templates that lay it out, the world
//! typst sees. Must not compute a size or touch a file.
