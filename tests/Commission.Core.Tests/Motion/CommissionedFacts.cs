using Commission.Core.Machines;
using Commission.Core.Motion;

namespace Commission.Tests;

/// <summary>Facts of an invented machine whose every check has passed in its present epoch.</summary>
internal static class CommissionedFacts
{
    public static readonly MotionFacts Heron = new()
    {
        TravelMm = new(420, 580, 90),
        StepMm = new(1 / 320.0, 1 / 320.0, 1 / 320.0),
        Passed = ["P05", "P06", "P07", "P08", "P22", "P30"],
        Switched = [AxisName.X, AxisName.Y, AxisName.Z],
        HomeHigh = [AxisName.X, AxisName.Y, AxisName.Z],
        DirectionChecked = [AxisName.X, AxisName.Y, AxisName.Z],
        HomingTestPassed = true,
        PullOffMm = new(1, 1, 1),
    };
}
