"""The list of every single fault of a house.

Order is that of the record; names are permanent.
"""

from collections.abc import Iterator

from generator.circuit.model import Circuit
from generator.faults.conductor_faults import conductor_faults
from generator.faults.device_faults import DeviceFaults
from generator.faults.fault import Change, Fault, Of
from generator.states.answer import Solution


def every_fault(solution: Solution) -> tuple[Fault, ...]:
    """Every single fault of devices, water and wiring.

    Args:
        solution: of the house without a fault.
    """
    circuit = solution.circuit
    return (*DeviceFaults(circuit).all(), *_water_faults(circuit), *conductor_faults(solution))


def _water_faults(circuit: Circuit) -> Iterator[Fault]:
    if circuit.water.bypass in ("fixed", "in the boiler"):
        # A bypass that is a device has this fault among its own.
        yield Fault(
            name="bypass-shut:water",
            words=f"bypass ({circuit.water.bypass}): lets nothing through",
            changes=(Change(of=Of.BYPASS, name=""),),
        )
    for item in circuit.water.circuits:
        yield Fault(
            name=f"airlock:{item.name}",
            words=f"water circuit {item.name}: airlock, nothing flows",
            changes=(Change(of=Of.FLOW, name=item.name),),
        )
        if item.feeds == "radiators":
            yield Fault(
                name=f"radiator-valve-stuck:{item.name}",
                words=f"water circuit {item.name}: the pin of one radiator's valve is stuck; the others get warm",
            )
