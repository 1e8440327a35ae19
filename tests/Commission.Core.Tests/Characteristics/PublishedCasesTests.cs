using Commission.Core.Tests.Support;

namespace Commission.Core.Tests.Characteristics;

public sealed class PublishedCasesTests
{
    [Fact]
    public void Every_case_carried_in_the_program_reaches_its_digits()
    {
        var cases = CharacteristicKinds.All.SelectMany(kind => kind.PublishedCases).ToArray();
        Assert.True(cases.Length > 90, $"{cases.Length} cases");
        Assert.All(cases, one =>
        {
            Assert.NotEmpty(one.Source);
            var digits = ReferenceData.Digits(one.Compute(), ReferenceData.Number(one.Published));
            Assert.True(digits >= one.LeastDigits, $"{one.Source}: {one.Quantity}: {one.Published}, computed {one.Compute():R}, {digits:F1} digits");
        });
    }

    [Fact]
    public void No_case_is_published_as_zero_because_no_digits_could_be_counted() =>
        Assert.DoesNotContain(CharacteristicKinds.All.SelectMany(kind => kind.PublishedCases), one => ReferenceData.Number(one.Published) == 0);
}
