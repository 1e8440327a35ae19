using Commission.Core.Quantities;

namespace Commission.Core.Tests.Quantities;

public sealed class InchTextTests
{
    // 1 in = 25.4 mm exactly (international yard and pound agreement of 1959): 0.0136 / 25.4 = 0.000535, 600 / 25.4 = 23.62; 12.7 um are half a thousandth.
    [Theory]
    [InlineData("amplitude +0.0136 +/- 0.0037 mm (k=2.14)", "amplitude +0.000535 +/- 0.000146 in (k=2.14)")]
    [InlineData("the work area (600 x 400 mm): 0.38 mm.", "the work area (23.62 x 15.75 in): 0.0150 in.")]
    [InlineData("12.7 um apart, 254 mm/min", "0.50 thousandths of an inch apart, 10.00 in/min")]
    [InlineData("between 138.999 and 281 mm", "between 5.47240 and 11.06299 in")]
    [InlineData("lies -0.041 mm off", "lies -0.00161 in off")]
    // A slope is the same number: 0.50 mm in 1000 mm are 0.50 thousandths of an inch in one inch.
    [InlineData("by 0.50 mm on each metre; 320.04 steps/mm; 0.003125 mm/step", "by 0.50 thousandths of an inch on each inch; 320.04 steps/mm; 0.003125 mm/step")]
    public void Lengths_become_inches_and_nothing_else_changes(string metric, string inch)
    {
        Assert.Equal(inch, ShownUnits.Inches.Told(metric));
        Assert.Equal(metric, ShownUnits.Millimetres.Told(metric));
    }
}
