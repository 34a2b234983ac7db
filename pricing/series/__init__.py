"""Official series: values of months, amounts moved by them, links."""
