"""What is said when something is printed, or can't be."""

from app.words.template import Template, within

DO_PRINT: Template = "print them, or save them as PDF"
PRINT: Template = "Print"
PRINTED: Template = "Sent to {printer}."
NOT_PRINTED: Template = "{printer} takes nothing at present, so nothing was printed."
NO_PRINTER: Template = "No printer is set up here: save it as PDF"
NO_PRINTER_SAVED: Template = "No printer is set up here. It is saved as PDF: {path}."
MADE: Template = within("paper", "{shop}, plan of {moment}, revision {revision}")
UNPLANNED: Template = within("paper", "{shop}, not planned")
OLD: Template = within("paper", "OLD PLAN. The book has changed since it was made. {line}")
TRIED: Template = within("paper", "TRIED, NOT TAKEN. {line}")
THICK: Template = within("paper", "Thick: three people or more. Thin: one. Hatched: it cures.")
THICK_OF: Template = within("paper", "Page {page} of {pages}. {key}")
