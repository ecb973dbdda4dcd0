"""python -m calmshaft"""

from calmshaft.app import main

main()
