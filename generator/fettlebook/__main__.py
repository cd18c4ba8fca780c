from fettlebook.cli import main

raise SystemExit(main())
