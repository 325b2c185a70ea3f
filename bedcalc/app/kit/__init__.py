"""What every workbook is built from: controls, questions, views, one style."""
