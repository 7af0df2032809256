"""The German catalogue: which texts there are, how the file reads, how it is compiled.

`python -m tests.german` takes new texts of the code into
`app/resources/locale/de/LC_MESSAGES/countback.po`, drops those that are gone, writes the `.mo` that
the program reads, and names every text that has no German yet. The format of both files is that
of the GNU gettext manual, sections "The Format of PO Files" and "The Format of GNU MO Files".
"""
