"""How the dashboard looks: the terminal's own colours, and emphasis that needs none."""

from __future__ import annotations

CSS = """
Screen, ModalScreen, Static, VerticalScroll, Vertical, OptionList, Input {
    background: ansi_default;
    color: ansi_default;
    border: none;
    padding: 0;
}
#top, #said, #keys { height: auto; }
#rest { height: 1fr; scrollbar-size: 0 0; }
#said { border-top: ascii ansi_default; }
ModalScreen { align: left bottom; background: transparent; }
.panel {
    height: auto;
    max-height: 100%;
    border-top: ascii ansi_default;
    padding: 0;
}
.panel > Static { height: auto; }
.panel > OptionList {
    height: auto;
    max-height: 12;
    scrollbar-size: 0 0;
}
.panel > OptionList, .panel > OptionList:focus {
    border: none;
    background-tint: transparent 0%;
}
OptionList > .option-list--option-highlighted,
OptionList:focus > .option-list--option-highlighted {
    background: ansi_default;
    color: ansi_default;
    text-style: bold reverse;
}
Input, Input:focus {
    height: 1;
    border: none;
    background-tint: transparent 0%;
}
Input > .input--cursor {
    background: ansi_default;
    color: ansi_default;
    text-style: reverse;
}
Input > .input--placeholder { color: ansi_default; text-style: dim; }
.page { width: 100%; height: 100%; }
.page > VerticalScroll { height: 1fr; max-width: 100; scrollbar-size: 0 0; }
.page > Static { height: auto; }
"""
