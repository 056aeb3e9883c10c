"""All that a person can do by key, as values by subject: keys, bars, help, finding and menus come from it."""
