UPDATE papers SET layout = 'compact';
