"""PDFs: whatever lies beside the other files is read by pikepdf, which finds nothing to mend."""

import pikepdf

from common import FOLDER

found = sorted(FOLDER.glob("*.pdf"))
for path in found:
    with pikepdf.open(path, attempt_recovery=False) as document:
        told = document.check_pdf_syntax()
        assert not told, told
        assert len(document.pages) > 0, path
        print(f"{path.name}: no findings, {len(document.pages)} pages")
if not found:
    print("no PDF was written")
