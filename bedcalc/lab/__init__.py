"""JupyterLab as the sheet: how a workbook is opened, and what helps it along.

``start`` finds the workbook and starts JupyterLab with our settings; ``settings/``
holds those settings; ``extension/`` is a small hand-written piece for the browser that
runs a flagged workbook when it is opened and folds its code away; small extensions of
the server save lessons as they came and hand plotly.js out once a page. Each of them
may fail without harm: the workbook then opens like any other notebook, and the log
says so once.
"""
