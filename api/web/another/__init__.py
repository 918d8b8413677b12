"""*Another week*: looked for behind the page, shown beside the week as it is, taken or left."""
