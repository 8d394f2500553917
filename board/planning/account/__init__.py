"""Why each load is where and when it is, in words and figures a pitmaster can argue with."""
