"""From the docket to the cost per kilo: value backwards, money forwards."""
