"""Costs of stock by a general-purpose bookkeeping library, to be compared with the cost layers of the book.

Standard input, one act a line: `history fifo|average`, `in QUANTITY VALUE`, `out QUANTITY`, `out-of LOT QUANTITY`
(lots count from 1 in each history). Standard output: the cost of each use in turn, then `left QUANTITY VALUE` at the end
of each history, to 20 decimals. Only tests run it; nothing of it is linked or shipped.
"""

import datetime
import sys
from decimal import Decimal

from beancount import loader
from beancount.core import amount, data, inventory, position

FIRST = datetime.date(1970, 1, 1)


def say(number):
    print(f"{number:.20f}")


def histories(lines):
    found = []
    for line in lines:
        word, *rest = line.split()
        if word == "history":
            found.append((rest[0], []))
        else:
            found[-1][1].append((word, [Decimal(text) for text in rest]))
    return found


def fifo(number, acts, ledger):
    """Writes a history as a ledger whose reductions the library books by itself."""
    account = f"Assets:Stock{number}"
    ledger.append(f'{FIRST} open {account} UNIT "FIFO"')
    received = []
    for step, (word, numbers) in enumerate(acts):
        day = FIRST + datetime.timedelta(days=step + 1)
        ledger.append(f'{day} * "{word}"')
        if word == "in":
            quantity, value = numbers
            received.append(day)
            ledger.append(f"  {account}  {quantity} UNIT {{{{{value} EUR}}}}\n  Equity:Other")
        elif word == "out":
            ledger.append(f"  {account}  -{numbers[0]} UNIT {{}}\n  Equity:Other")
        else:
            lot = received[int(numbers[0]) - 1]
            ledger.append(f"  {account}  -{numbers[1]} UNIT {{{lot}}}\n  Equity:Other")


def fifo_answers(account, entries):
    """Cost of each use, and what is left."""
    stock, uses = inventory.Inventory(), []
    for entry in entries:
        if not isinstance(entry, data.Transaction):
            continue
        own = [posting for posting in entry.postings if posting.account == account]
        for posting in own:
            stock.add_position(posting)
        if own and entry.narration != "in":
            uses.append(-sum(posting.units.number * posting.cost.number for posting in own))
    return uses, stock


def average(acts):
    """Averages all lots after each receipt, and takes at that cost."""
    stock, uses = inventory.Inventory(), []
    for step, (word, numbers) in enumerate(acts):
        day = FIRST + datetime.timedelta(days=step + 1)
        if word == "in":
            quantity, value = numbers
            cost = position.Cost(value / quantity, "EUR", day, None)
            stock.add_amount(amount.Amount(quantity, "UNIT"), cost)
            stock = stock.average()
        else:
            (pool,) = list(stock)
            uses.append(numbers[0] * pool.cost.number)
            stock.add_amount(amount.Amount(-numbers[0], "UNIT"), pool.cost)
    return uses, stock


def main():
    asked = histories(sys.stdin)
    ledger = [f"{FIRST} open Equity:Other"]
    for number, (method, acts) in enumerate(asked):
        if method == "fifo":
            fifo(number, acts, ledger)
    entries, errors, _ = loader.load_string("\n".join(ledger))
    if errors:
        sys.exit("\n".join(error.message for error in errors))
    by_account = {}
    for entry in entries:
        for posting in getattr(entry, "postings", [])[:1]:
            by_account.setdefault(posting.account, []).append(entry)
    for number, (method, acts) in enumerate(asked):
        account = f"Assets:Stock{number}"
        uses, stock = average(acts) if method == "average" else fifo_answers(account, by_account.get(account, []))
        for use in uses:
            say(use)
        quantity = sum(lot.units.number for lot in stock)
        value = sum(lot.units.number * lot.cost.number for lot in stock)
        print(f"left {quantity} {value:.20f}")


main()
